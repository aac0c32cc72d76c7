/**
 * Six more pieces of the same kinds in other keys, two of them on a universal twelve and one on C6, with what a good
 * player would do, measure by measure. Common practice of the trade, no published source, from memory: written down
 * before anything was solved. The chord sequences are plain ones of our own.
 *
 * Positions on C6, counted from the fret f under the bar (C open): I6 and vi7 with nothing, II9 with P5, IV9 with P6, V6 and
 * iii7 with P7, I7 with LKR; so a key's ii7 (its IV6), V9 and I lie at one fret by P5 and P7.
 */
import type { PlayedPiece } from './playedPieces';

type Does = PlayedPiece['measures'][number];
const SAME: Does = ['stays', 'the same chord'];
const near = (why: string): Does => ['stays | within 3', why];
const close = (why: string): Does => ['within 3', why];
const bridge: Does = ['within 5', 'the bridge may go where its sevenths lie'];
const eight: readonly Does[] = [
  close('two chords a measure leave no time for journeys'),
  close('the same'),
  close('the same'),
  close('home is near'),
  close('IV, and the diminished chord beside it'),
  close('home'),
];

export const OTHER_PLAYED_PIECES: readonly PlayedPiece[] = [
  {
    name: 'a blues in A with a quick change',
    agrees: 11,
    text: 'key: A\ntempo: 108\nA7 | D7 | A7 | A7 | D7 | D7 | A7 | A7 | E7 | D7 | A7 | E7',
    measures: [
      ['5 | 10 B,LKR | 12 | 0', 'one of the homes of A7'],
      near('A+B over home'),
      near('the pedals are let go'),
      SAME,
      near('as in the second measure'),
      SAME,
      near('let go'),
      SAME,
      near('B+LKR at home, or A+B two frets above'),
      near('down again'),
      near('home'),
      near('the turn is not worth a journey'),
    ],
  },
  {
    name: 'a waltz in F',
    agrees: 16,
    text: 'key: F\ntempo: 96\nmetre: 3/4\nF | F | Bb | F | Dm | Gm | C7 | C7 | F | F7 | Bb | Bbm | F | C7 | F | F',
    measures: [
      ['1 - | 8 A,B | 13 -', 'home under nothing, or under A+B'],
      SAME,
      near('A+B; from 8 two frets down under nothing'),
      near('let go'),
      near('A'),
      near('B+C'),
      near('V7'),
      SAME,
      near('home'),
      near('a seventh is added'),
      near('IV'),
      close('IV minor is near'),
      close('home'),
      near('V7'),
      near('home'),
      SAME,
    ],
  },
  {
    name: 'a ballad in E♭ with a descending bass',
    agrees: 16,
    text: 'key: Eb\ntempo: 60\nEb | Eb/D | Cm7 | Cm7/Bb | Ab | Eb/G | Fm7 | Bb7 | Eb | Eb/D | Cm7 | F7 | Ab | Bb7 | Eb | Eb',
    measures: [
      ['11 - | 6 A,B', 'home under nothing, or under A+B'],
      ['stays', 'the bass is the band’s'],
      near('vi is A over I'),
      ['stays', 'the same chord over another bass'],
      near('IV'),
      near('I'),
      near('ii'),
      near('V7'),
      ['6 | 11', 'home where it was'],
      ['stays', 'the bass is the band’s'],
      near('vi'),
      close('II7 is near'),
      close('IV'),
      near('V7'),
      ['6 | 11', 'home'],
      SAME,
    ],
  },
  {
    name: 'ii–V–I up by fourths on C6',
    setup: 'c6',
    agrees: 24,
    text: 'tempo: 120\nGm7 C7 | F6 | Cm7 F7 | Bb6 | Fm7 Bb7 | Eb6 | Bbm7 Eb7 | Ab6 | Ebm7 Ab7 | Db6 | Abm7 Db7 | Gb6 | C#m7 F#7 | B6 | F#m7 B7 | E6 | Bm7 E7 | A6 | Em7 A7 | D6 | Am7 D7 | G6 | Dm7 G7 | C6',
    measures: [
      ['3-12', 'where ii lies well'],
      near('P7 keeps the bar where ii was'),
      ...Array.from({ length: 11 }, (): Does[] => [
        ['within 5', 'ii of the next key is the IV6 of it'],
        near('P7 keeps the bar where ii was'),
      ]).flat(),
    ],
  },
  {
    name: 'rhythm changes in F on a universal twelve',
    setup: 'universal12',
    agrees: 32,
    text: 'key: F\ntempo: 168\n|: F Dm7 | Gm7 C7 | Am7 D7 | Gm7 C7 | F F7 | Bb Bdim | F C7 | F :| A7 | A7 | D7 | D7 | G7 | G7 | C7 | C7 | F Dm7 | Gm7 C7 | Am7 D7 | Gm7 C7 | F F7 | Bb Bdim | F C7 | F',
    measures: [
      ['1 | 3-13', 'one of the homes of F'],
      ...eight,
      near('home'),
      close('the second time as the first'),
      ...eight,
      near('home'),
      ...[bridge, SAME, bridge, SAME, bridge, SAME, bridge, SAME],
      ['within 5', 'home'],
      ...eight,
      near('home'),
    ],
  },
  {
    name: 'a sixteen-measure air in D on a universal twelve',
    setup: 'universal12',
    agrees: 16,
    text: 'key: D\ntempo: 80\nD | G | D | A | D | Bm | G A7 | D | Bm | F#m | G | D | Em | A7 | D A7 | D',
    measures: [
      ['10 - | 5 P1,P2', 'home under nothing, or under P1+P2'],
      near('IV by the pedals'),
      near('let go'),
      close('V'),
      close('home again, not an octave up'),
      near('vi'),
      near('IV, then V7'),
      near('home'),
      near('vi'),
      near('iii: E lowered over home'),
      near('IV'),
      near('home'),
      near('ii'),
      near('V7'),
      near('home, and V7'),
      ['10 | 5', 'it ends where it began'],
    ],
  },
];
