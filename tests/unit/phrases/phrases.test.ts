/** Phrases: what they are made of, and that they come out right on every setup and in any key. */
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { sounding } from '$lib/setup/sounding';
import { fretsAheadOf } from '$lib/search/hold';
import { parseKey, type Key } from '$lib/theory/spelling';
import { PHRASES, PHRASE_USES, phraseOf, type Phrase } from '$lib/phrases/phrases';
import { notesIn, phrasePiece, placed } from '$lib/phrases/placed';
import { withAfter } from '$lib/phrases/withAfter';
import { battery } from '../../battery';

const keyOf = (text: string): Key => {
  const key = parseKey(text);
  if (key === undefined) throw new Error(text);
  return key;
};

/** Semitones above the tonic, by the definition of the degrees; counted by hand. */
const ABOVE: Readonly<Record<string, number>> = {
  ...{ '1': 0, '#1': 1, '2': 2, b3: 3, '3': 4, '4': 5, '5': 7, b6: 8, '6': 9, b7: 10, '7': 11 },
};
const TONICS: Readonly<Record<string, number>> = {
  ...{ C: 60, Eb: 63, 'F#': 66, A: 69, Cm: 60, Gm: 67, 'F#m': 66, Bm: 71 },
};

/** The notes of a phrase in semitones, read apart from the program. */
const written = ({ notes }: Phrase, tonic: number): number[] =>
  notes
    .replaceAll('|', ' ')
    .split(' ')
    .filter((each) => each !== '' && !each.startsWith('-'))
    .map((each) => {
      const [sound = ''] = each.split(':');
      const degree = sound.replace(/[',]/g, '');
      const octaves = sound.split("'").length - sound.split(',').length;
      const above = ABOVE[degree];
      if (above === undefined) throw new Error(each);
      return tonic + above + 12 * octaves;
    });

const SECOND: Readonly<Record<string, readonly number[]>> = {
  thirds: [3, 4],
  sixths: [8, 9],
  tenths: [15, 16],
};

/** A phrase sounds its own notes: the strings that are picked, stopped and pulled are counted anew. */
function sounds(id: (typeof BUILT_IN_IDS)[number], phrase: Phrase, key: string): void {
  const setup = builtIn(id);
  const { arrangement, piece } = placed(setup, phrase, keyOf(key));
  const where = `${phrase.id} in ${key} on ${id}`;
  const [best] = arrangement.ways;
  const tops: number[] = [];
  for (const { hold, onset } of best?.steps ?? []) {
    const ahead = fretsAheadOf(hold);
    const all = sounding(setup, hold.neck, hold.engaged, hold.fret);
    const heard = hold.strings.map((string, at) => (all[string - 1] ?? 0) + (ahead?.[at] ?? 0));
    expect(heard, where).toEqual(hold.pitches);
    const top = Math.max(...heard);
    tops.push(top);
    const below = SECOND[phrase.texture];
    if (below !== undefined) expect(below, where).toContain(top - Math.min(...heard));
    if (phrase.texture === 'line') expect(heard, where).toHaveLength(1);
    if (phrase.texture === 'chord-melody' && heard.length > 1)
      for (const pitch of heard.filter((each) => each !== top))
        expect(
          onset.chord?.tones.map(({ chroma }) => chroma),
          where,
        ).toContain(pitch % 12);
  }
  // in which octave is the setup's affair
  const tonic = TONICS[key] ?? NaN;
  const octaves = ((tops[0] ?? 0) - (written(phrase, tonic)[0] ?? 0)) / 12;
  expect(Number.isInteger(octaves), where).toBe(true);
  expect(tops, where).toEqual(written(phrase, tonic + 12 * octaves));
  expect(
    notesIn(piece).map(({ midi }) => midi),
    where,
  ).toEqual(tops);
  expect(arrangement.lacks, where).toEqual([]);
}

describe('the phrases', () => {
  it('are two dozen and more, of every use, in major and in minor, over I, IV, V and ii–V', () => {
    expect(PHRASES.length).toBeGreaterThanOrEqual(24);
    expect(new Set(PHRASES.map(({ id }) => id)).size).toBe(PHRASES.length);
    expect(new Set(PHRASES.map(({ notes, chords }) => `${chords}/${notes}`)).size).toBe(
      PHRASES.length,
    );
    for (const use of PHRASE_USES)
      expect(PHRASES.filter((each) => each.use === use).length, use).toBeGreaterThanOrEqual(3);
    const fills = PHRASES.filter(({ use }) => use === 'fill').map(({ chords }) => chords);
    for (const over of ['I', 'IV', 'V7', 'ii7 V7 | I', 'i']) expect(fills, over).toContain(over);
    expect(PHRASES.filter(({ mode }) => mode === 'minor').length).toBeGreaterThanOrEqual(3);
  });
  it('fill their measures, and say in a sentence how they are made', () => {
    for (const phrase of PHRASES) {
      const { id, beats, chords, notes, made } = phrase;
      const bars = notes.split('|');
      expect(chords.split('|'), id).toHaveLength(bars.length);
      for (const bar of bars) {
        const lengths = bar
          .trim()
          .split(' ')
          .map((each) => Number(each.split(':')[1]));
        expect(
          lengths.reduce((sum, each) => sum + each, 0),
          id,
        ).toBe(beats);
      }
      expect(made, id).toMatch(/^[A-Z].{30,}\.$/u);
    }
  });
  it('begin and end on a tone of their chord', () => {
    for (const phrase of PHRASES) {
      const piece = phrasePiece(phrase, keyOf(phrase.mode === 'minor' ? 'Am' : 'C'));
      const last = piece.measures.at(-1);
      const chord = last?.chords.at(-1)?.chord;
      const note = last?.notes.at(-1)?.pitch;
      if (chord === undefined || chord === 'no chord' || note === undefined || note === 'rest')
        throw new Error(phrase.id);
      const names = chord.tones.map(({ name }) => name.letter + String(name.alter));
      expect(names, phrase.id).toContain(note.letter + String(note.alter));
    }
  });
});

describe('a phrase on a setup', () => {
  it('of each texture sounds its own notes on an E9 and on a C6', () => {
    for (const id of ['second-fifth-home', 'third-answer', 'turn-in-sixths', 'two-five-line'])
      for (const setup of ['e9', 'c6'] as const) sounds(setup, phraseOf(id) as Phrase, 'C');
  });
  battery(
    'every one sounds its own notes, on every setup, in any key',
    { slice: 12, whole: 1000 },
    (cases) => {
      const all = PHRASES.flatMap((phrase) =>
        BUILT_IN_IDS.flatMap((id) =>
          (phrase.mode === 'major' ? ['C', 'Eb', 'F#', 'A'] : ['Cm', 'Gm', 'F#m', 'Bm']).map(
            (key) => ({ id, phrase, key }),
          ),
        ),
      );
      for (const { id, phrase, key } of cases.of(all)) sounds(id, phrase, key);
    },
  );
});

describe('a phrase in a piece', () => {
  const of = (id: string) => phrasePiece(phraseOf(id) as Phrase, keyOf('D'));
  it('stands after its end, with its notes and chords', () => {
    const both = withAfter(of('home-in-sixths'), of('bent-third'));
    expect(both.measures).toHaveLength(3);
    expect(notesIn(both)).toEqual([...notesIn(of('home-in-sixths')), ...notesIn(of('bent-third'))]);
    expect(both.measures[2]?.metre).toBeUndefined();
  });
  it('says its metre where that is another one, and is the piece where there is none', () => {
    expect(withAfter(of('bent-third'), of('waltz-call')).measures[1]?.metre).toEqual({
      beats: 3,
      unit: 4,
    });
    const alone = withAfter({ measures: [], title: 'Mine' }, of('waltz-call'));
    expect(alone).toMatchObject({ title: 'Mine', metre: { beats: 3 } });
  });
});
