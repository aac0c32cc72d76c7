/**
 * The chords that music in a key is mostly made of: its diatonic triads and sevenths, and its
 * secondary dominants, the dominant sevenths that lead to its other major and minor triads. Common
 * practice of tonal harmony, as every textbook has it; in minor the fifth and the seventh degree
 * stand both as the signature gives them and with the raised leading note.
 */
import type { Chord } from './chord';
import { degreeName } from './degrees';
import type { Key } from './spelling';
import { chordWith } from './wantedType';

export interface KeyChord {
  /** The chord's number in the key: `ii7`, `V7/vi`. */
  readonly numeral: string;
  readonly kind: 'triad' | 'seventh' | 'secondary';
  readonly chord: Chord;
}

/** Numeral, degree of its root in the key, type. */
type Row = readonly [numeral: string, degree: string, type: string];

const rows = (text: string): readonly Row[] =>
  text.split(' ').map((row): Row => {
    const [numeral = '', degree = '', type = ''] = row.split(':');
    return [numeral, degree, type];
  });

const CHORDS: Readonly<Record<Key['mode'], Readonly<Record<KeyChord['kind'], readonly Row[]>>>> = {
  major: {
    triad: rows('I:1: ii:2:m iii:3:m IV:4: V:5: vi:6:m vii°:7:dim'),
    seventh: rows('Imaj7:1:maj7 ii7:2:m7 iii7:3:m7 IVmaj7:4:maj7 V7:5:7 vi7:6:m7 viiø7:7:m7b5'),
    secondary: rows('V7/ii:6:7 V7/iii:7:7 V7/IV:1:7 V7/V:2:7 V7/vi:3:7'),
  },
  minor: {
    triad: rows('i:1:m ii°:2:dim III:b3: iv:4:m v:5:m V:5: VI:b6: VII:b7: vii°:7:dim'),
    seventh: rows(
      'i7:1:m7 iiø7:2:m7b5 IIImaj7:b3:maj7 iv7:4:m7 V7:5:7 VImaj7:b6:maj7 VII7:b7:7 vii°7:7:dim7',
    ),
    // the dominant of III is VII7
    secondary: rows('V7/iv:1:7 V7/V:2:7 V7/VI:b3:7 V7/VII:4:7'),
  },
};

/** The chords of a key, triads first. */
export const chordsOfKey = ({ tonic, mode }: Key): KeyChord[] =>
  (['triad', 'seventh', 'secondary'] as const).flatMap((kind) =>
    CHORDS[mode][kind].map(([numeral, degree, type]) => ({
      numeral,
      kind,
      chord: chordWith(degreeName(tonic, degree), type),
    })),
  );
