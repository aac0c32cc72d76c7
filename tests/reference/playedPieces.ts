/**
 * Six pieces on E9 with what a good player would do, measure by measure. Common practice of the trade,
 * no published source, from memory: written down before anything was solved. The chord sequences are
 * plain ones of our own.
 *
 * Positions on E9, counted from the fret f under the bar: E with nothing, A with A+B, C♯ with A+LKL,
 * C♯m with A, F♯m with B+C, G♯m with LKR, B7 with B+LKR; so a key's I, IV, vi, ii and V7 lie at one fret.
 *
 * How a measure is said, each alternative between bars (`|`):
 * - `3 -`, `3 A,B`: at this fret with these controls; `3`: at this fret, whatever is engaged
 * - `stays`: the bar is where it was in the measure before
 * - `within 3`: the bar goes at most three frets from the measure before
 * - `1-5`: the bar is in this stretch
 */
import type { BuiltInId } from '$lib/setup/builtIns';

export interface PlayedPiece {
  readonly name: string;
  readonly text: string;
  /** The setup that it is played on; E9 where left out. */
  readonly setup?: BuiltInId;
  /** In how many measures the first arrangement does so; it must not become fewer. */
  readonly agrees: number;
  /** Of each measure: what is done where it begins, and why. */
  readonly measures: readonly (readonly [does: string, why: string])[];
}

export const PLAYED_PIECES: readonly PlayedPiece[] = [
  {
    name: 'a twelve-measure blues',
    agrees: 11,
    text: 'key: G\ntempo: 96\nG7 | C7 | G7 | G7 | C7 | C7 | G7 | G7 | D7 | C7 | G7 | D7',
    measures: [
      ['3 | 8 B,LKR | 10', 'the key’s home under nothing, or one of its other two sevenths'],
      ['stays | within 3', 'IV is A+B over I'],
      ['stays | within 3', 'the pedals are let go'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'as in the second measure'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'the pedals are let go'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'V7 is B+LKR at the home fret, or A+B two frets up'],
      ['stays | within 3', 'down again to IV, in the same pocket'],
      ['stays | within 3', 'home'],
      ['stays | within 3', 'the turn is not worth a journey'],
    ],
  },
  {
    name: 'a waltz',
    agrees: 16,
    text: 'key: D\ntempo: 112\nmetre: 3/4\nD | D | G | G | A7 | A7 | D | D | D | D7 | G | Em | A7 | A7 | D | D',
    measures: [
      ['10 - | 5 A,B', 'home under nothing, or under A+B'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'A+B at 10; from 5 two frets down under nothing'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'B+LKR at 10, or A+B two frets above; 5 under nothing'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'back to where it began'],
      ['stays', 'the same chord'],
      ['stays', 'the second half begins as the first ended'],
      ['stays | within 3', 'a seventh is added, nothing else'],
      ['stays | within 3', 'IV as before'],
      ['stays | within 3', 'ii is B+C at the home fret'],
      ['stays | within 3', 'V7 in the same pocket'],
      ['stays', 'the same chord'],
      ['stays | within 3', 'home'],
      ['stays', 'the same chord'],
    ],
  },
  {
    name: 'a ballad with a descending bass',
    agrees: 16,
    text: 'key: C\ntempo: 66\nC | C/B | Am7 | C/G | F | C/E | Dm7 | G7 | C | Am | Dm7 | G7 | C | F | G7 | C',
    measures: [
      ['8 - | 3 A,B', 'home under nothing, or under A+B'],
      ['stays', 'the bass is the band’s; the chord stays'],
      ['stays | within 3', 'vi is A over I'],
      ['stays | within 3', 'the pedal is let go'],
      ['stays | within 3', 'IV is A+B over I'],
      ['stays | within 3', 'the pedals are let go'],
      ['stays | within 3', 'ii is B+C, or A two frets above'],
      ['stays | within 3', 'V7 is B+LKR, or A+B two frets above'],
      ['3-11', 'home, and not up the neck'],
      ['stays | within 3', 'A'],
      ['stays | within 3', 'B+C'],
      ['stays | within 3', 'B+LKR'],
      ['3-11', 'home'],
      ['stays | within 3', 'A+B'],
      ['stays | within 3', 'V7'],
      ['3-11', 'it ends where it lived, not at fret 20'],
    ],
  },
  {
    name: 'ii–V–I through the keys',
    agrees: 24,
    text: 'tempo: 120\nDm7 | G7 | Cmaj7 | Cmaj7 | Cm7 | F7 | Bbmaj7 | Bbmaj7 | Bbm7 | Eb7 | Abmaj7 | Abmaj7 | Abm7 | Db7 | Gbmaj7 | Gbmaj7 | F#m7 | B7 | Emaj7 | Emaj7 | Em7 | A7 | Dmaj7 | Dmaj7',
    measures: Array.from({ length: 6 }, (_, key): (readonly [string, string])[] => [
      key === 0
        ? ['3-13', 'where ii lies well']
        : ['within 3 | within 5', 'ii of the next key is near the I that was'],
      ['stays | within 3', 'ii and V lie under one bar, or two frets apart'],
      ['stays | within 3', 'and I with them'],
      ['stays', 'the same chord'],
    ]).flat(),
  },
  {
    name: 'rhythm changes',
    agrees: 30,
    text: 'key: Bb\ntempo: 160\n|: Bb Gm7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Bb Bb7 | Eb Edim | Bb F7 | Bb :| D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7 | Bb Gm7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Bb Bb7 | Eb Edim | Bb F7 | Bb',
    measures: [
      ['6 - | 1 A,B | 9 A,LKL | 13 A,B', 'one of the homes of B♭'],
      ['within 3', 'two chords a measure leave no time for journeys'],
      ['within 3', 'the same'],
      ['within 3', 'the same'],
      ['within 3', 'home is near'],
      ['within 3', 'IV by A+B, the diminished chord by LKL'],
      ['within 3', 'home'],
      ['stays | within 3', 'home'],
      ['stays | within 3', 'the second time as the first'],
      ['within 3', 'the same'],
      ['within 3', 'the same'],
      ['within 3', 'the same'],
      ['within 3', 'home is near'],
      ['within 3', 'A+B and LKL'],
      ['within 3', 'home'],
      ['stays | within 3', 'home'],
      ['within 5', 'the bridge may go where its sevenths lie'],
      ['stays', 'the same chord'],
      ['within 5', 'a fourth up: A+B or five frets'],
      ['stays', 'the same chord'],
      ['within 5', 'a fourth up'],
      ['stays', 'the same chord'],
      ['within 5', 'a fourth up'],
      ['stays', 'the same chord'],
      ['within 5', 'home'],
      ['within 3', 'as at the beginning'],
      ['within 3', 'the same'],
      ['within 3', 'the same'],
      ['within 3', 'home is near'],
      ['within 3', 'A+B and LKL'],
      ['within 3', 'home'],
      ['stays | within 3', 'home'],
    ],
  },
  {
    name: 'a sixteen-measure air',
    agrees: 16,
    text: 'key: G\ntempo: 84\nG | C | G | D | G | Em | Am D7 | G | C | G | D7 | G | Em | C | G D7 | G',
    measures: [
      ['3 - | 10 A,B', 'home under nothing, or under A+B'],
      ['stays | within 3', 'A+B over I; from 10 two frets down under nothing'],
      ['stays | within 3', 'let go'],
      ['within 3', 'A+B two frets up, or two frets up from 8'],
      ['within 3', 'home again, not an octave up'],
      ['stays | within 3', 'vi is A'],
      ['stays | within 3', 'ii is B+C, V7 B+LKR'],
      ['stays | within 3', 'home'],
      ['stays | within 3', 'A+B'],
      ['stays | within 3', 'let go'],
      ['stays | within 3', 'V7'],
      ['stays | within 3', 'home'],
      ['stays | within 3', 'A'],
      ['stays | within 3', 'A+B: one pedal more'],
      ['stays | within 3', 'let go'],
      ['3 | 10', 'it ends where it began'],
    ],
  },
];

export interface Placed {
  readonly fret: number;
  /** Ids, comma-separated in the order of the setup. */
  readonly controls: string;
}

/** Whether a measure is played as said; `before` is the measure before. */
export function playedAs(does: string, now: Placed, before: Placed | undefined): boolean {
  return does.split('|').some((each) => {
    const said = each.trim();
    const away = Math.abs(now.fret - (before?.fret ?? now.fret));
    if (said === 'stays') return away === 0;
    const within = /^within (\d+)$/.exec(said)?.[1];
    if (within !== undefined) return away <= Number(within);
    const [, low, high] = /^(\d+)-(\d+)$/.exec(said) ?? [];
    if (low !== undefined && high !== undefined)
      return now.fret >= Number(low) && now.fret <= Number(high);
    const [fret, controls] = said.split(' ');
    if (Number(fret) !== now.fret) return false;
    return controls === undefined || (controls === '-' ? '' : controls) === now.controls;
  });
}
