/**
 * Feels: what drums, bass and chords do in a measure, called as theory and the trade call them. Facts alone;
 * all of them are common practice of the trade, written down from memory, the bossa nova's side stick being
 * its clave of two measures: beats 1, 2-and, 4; then beats 2, 3-and.
 *
 * A grid says what falls on the equal parts of the beats, from the first beat on. Of the drums: `X` accented,
 * `x` as usual, `o` soft, `.` nothing. Of the bass: `R` the chord's bass (its root, or the note after the
 * slash), `5` and `3` its fifth and third, `A` a step that leads to the next chord's bass (the third where the
 * chord stays). Of the chords `x`. In both a note sounds on through each `-`.
 */

/** What a drummer strikes. */
export const DRUMS = ['kick', 'snare', 'side stick', 'closed hat', 'foot hat', 'ride'] as const;
/** One of `DRUMS`. */
export type Drum = (typeof DRUMS)[number];

/** What is played over some beats. */
export interface Grid {
  /** Equal parts of a beat, each a letter; three of them are triplets. */
  readonly per: 2 | 3 | 4;
  readonly drums: Readonly<Partial<Record<Drum, string>>>;
  readonly bass: string;
  readonly chords: string;
}

/** What is played over four beats and over three; measure by measure in turn where there are several. */
export interface Feel {
  readonly four: readonly Grid[];
  readonly three: readonly Grid[];
}

/** Every feel by its name, the plainest first. */
export const FEELS = {
  'two-beat': {
    four: [
      {
        per: 2,
        drums: { kick: 'x...x...', snare: '..x...x.', 'closed hat': 'o.o.o.o.' },
        bass: 'R--.5--.',
        chords: '..x...x.',
      },
    ],
    three: [
      {
        per: 2,
        drums: { kick: 'x.....', snare: '..x.x.', 'closed hat': 'o.o.o.' },
        bass: 'R--...',
        chords: '..x.x.',
      },
    ],
  },
  'train beat': {
    four: [
      {
        per: 4,
        drums: { kick: 'x...x...x...x...', snare: 'ooXoooXoooXoooXo' },
        bass: 'R--.5--.R--.5--.',
        chords: '..x...x...x...x.',
      },
    ],
    three: [
      {
        per: 4,
        drums: { kick: 'x...x...x...', snare: 'ooXoooXoooXo' },
        bass: 'R--.5--.5--.',
        chords: '..x...x...x.',
      },
    ],
  },
  shuffle: {
    four: [
      {
        per: 3,
        drums: { kick: 'x.....x.....', snare: '...X.....X..', 'closed hat': 'x.ox.ox.ox.o' },
        bass: 'R-.3-.5-.A-.',
        chords: '...x.....x..',
      },
    ],
    three: [
      {
        per: 3,
        drums: { kick: 'x........', snare: '...x..x..', 'closed hat': 'x.ox.ox.o' },
        bass: 'R-.5-.A-.',
        chords: '...x..x..',
      },
    ],
  },
  swing: {
    four: [
      {
        per: 3,
        drums: {
          kick: 'o..o..o..o..',
          ride: 'x..x.ox..x.o',
          'foot hat': '...x.....x..',
        },
        bass: 'R-.3-.5-.A-.',
        chords: 'x-...x......',
      },
    ],
    three: [
      {
        per: 3,
        drums: { kick: 'o........', ride: 'x..x.ox..', 'foot hat': '...x.....' },
        bass: 'R-.5-.A-.',
        chords: 'x-...x...',
      },
    ],
  },
  'four to the bar': {
    four: [
      {
        per: 2,
        drums: { kick: 'o.o.o.o.', 'closed hat': 'o.x.o.x.' },
        bass: 'R-3-5-A-',
        chords: 'x.x.x.x.',
      },
    ],
    three: [
      {
        per: 2,
        drums: { kick: 'o.o.o.', 'closed hat': 'o.x.x.' },
        bass: 'R-5-A-',
        chords: 'x.x.x.',
      },
    ],
  },
  waltz: {
    four: [
      {
        per: 2,
        drums: { kick: 'x.......', snare: '..o.o.o.', 'closed hat': 'o.o.o.o.' },
        bass: 'R---....',
        chords: '..x.x.x.',
      },
    ],
    three: [
      {
        per: 2,
        drums: { kick: 'x.....', snare: '..o.o.', 'closed hat': 'o.o.o.' },
        bass: 'R---..',
        chords: '..x.x.',
      },
      {
        per: 2,
        drums: { kick: 'x.....', snare: '..o.o.', 'closed hat': 'o.o.o.' },
        bass: '5---..',
        chords: '..x.x.',
      },
    ],
  },
  'straight eighths': {
    four: [
      {
        per: 2,
        drums: { kick: 'x...xx..', snare: '..X...X.', 'closed hat': 'xoxoxoxo' },
        bass: 'R--RR-5-',
        chords: 'x---x---',
      },
    ],
    three: [
      {
        per: 2,
        drums: { kick: 'x..x..', snare: '....X.', 'closed hat': 'xoxoxo' },
        bass: 'R--R5-',
        chords: 'x-----',
      },
    ],
  },
  '12/8 ballad': {
    four: [
      {
        per: 3,
        drums: { kick: 'x.....x.....', snare: '...X.....X..', 'closed hat': 'xooxooxooxoo' },
        bass: 'R----R5----A',
        chords: 'x--x--x--x--',
      },
    ],
    three: [
      {
        per: 3,
        drums: { kick: 'x........', snare: '......X..', 'closed hat': 'xooxooxoo' },
        bass: 'R----R5-A',
        chords: 'x--x--x--',
      },
    ],
  },
  'bossa nova': {
    four: [
      {
        per: 2,
        drums: { kick: 'x..xx..x', 'side stick': 'x..x..x.', 'closed hat': 'oooooooo' },
        bass: 'R--55--R',
        chords: 'x-.x-.x-',
      },
      {
        per: 2,
        drums: { kick: 'x..xx..x', 'side stick': '..x..x..', 'closed hat': 'oooooooo' },
        bass: 'R--55--R',
        chords: '..x-.x-.',
      },
    ],
    three: [
      {
        per: 2,
        drums: { kick: 'x..x..', 'side stick': 'x..x..', 'closed hat': 'oooooo' },
        bass: 'R--55-',
        chords: 'x-.x-.',
      },
    ],
  },
} as const satisfies Readonly<Record<string, Feel>>;

/** The name of a feel. */
export type FeelName = keyof typeof FEELS;

/** All names, in order. */
export const FEEL_NAMES = Object.keys(FEELS) as readonly FeelName[];

/** The feel of a name; what people type may have other capitals. */
export const feelNamed = (text: string): FeelName | undefined =>
  FEEL_NAMES.find((name) => name.toLowerCase() === text.trim().toLowerCase());
