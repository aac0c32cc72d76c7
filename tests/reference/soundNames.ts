/**
 * What a musician says first on hearing a sound without a key: written down before any program was
 * asked. Common practice of the trade, as taught in every course of harmony and jazz, one rule a group.
 *
 * A sound is a stack of degrees over a root, low to high, each tone the nearest one above the tone
 * before. A name is `suffix` (`maj` for a plain triad), with `degree:` before it where the root is
 * another one, and `/` behind it where the bass is said. Several names: any of them.
 */

export interface Group {
  readonly practice: string;
  /** `stack = names` */
  readonly rows: readonly string[];
}

const rows = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);

export const GROUPS: readonly Group[] = [
  {
    practice: 'Shells: root, third and seventh make a seventh chord; the fifth may be missing',
    rows: rows(`
      1 3 7 = maj7
      1 7 3 = maj7
      1 3 b7 = 7
      1 b7 3 = 7
      1 b3 b7 = m7
      1 b7 b3 = m7
      1 b3 7 = m(maj7)
      1 7 b3 = m(maj7)
      1 3 1 b7 = 7
      1 b7 3 b7 = 7
      1 1 3 7 = maj7
      3 1 b7 = 7/ 7
      3 b7 1 = 7/ 7
      b7 1 3 = 7/ 7
      b7 3 1 = 7/ 7
      3 7 1 = maj7/ maj7
      b3 b7 1 = m7/ b3:6
    `),
  },
  {
    practice: 'A fifth and a seventh without the third are that seventh chord, third missing',
    rows: rows(`
      1 5 b7 = 7
      1 b7 5 = 7
      1 5 7 = maj7
      1 7 5 = maj7
      1 5 1 b7 = 7
    `),
  },
  {
    practice: 'Third, seventh and ninth make a ninth chord; fifth and root may be missing',
    rows: rows(`
      1 3 5 b7 9 = 9
      1 3 b7 9 = 9
      1 b7 9 3 = 9
      1 b7 3 9 = 9
      1 9 3 b7 = 9
      1 3 9 b7 = 9
      1 5 b7 3 9 = 9
      1 b7 9 3 5 = 9
      b7 9 3 = 9
      b7 3 9 = 9
      3 b7 9 = 9
      3 5 b7 1 9 = 9/
      5 b7 9 3 1 = 9/
      b7 9 3 5 1 = 9/
      b7 1 3 5 9 = 9/
      1 3 5 7 9 = maj9
      1 3 7 9 = maj9
      1 7 9 3 = maj9
      1 7 3 9 = maj9
      1 5 7 3 9 = maj9
      1 5 7 9 3 = maj9
      1 b3 5 b7 9 = m9
      1 b3 b7 9 = m9
      1 b7 b3 9 = m9
      1 b7 9 b3 = m9
      1 5 b7 b3 9 = m9
      1 5 b7 9 b3 = m9
      1 b3 5 7 9 = m(maj9)
      1 b3 7 9 = m(maj9)
      1 b3 b5 b7 9 = m9b5
    `),
  },
  {
    practice:
      'Third, seventh and thirteenth make a thirteenth, on any of its basses but the colour',
    rows: rows(`
      b7 3 13 = 13
      b7 3 13 1 = 13
      b7 3 5 13 = 13
      3 b7 13 = 13
      3 b7 9 13 = 13
      3 13 b7 9 = 13
      3 b7 13 9 = 13
      1 b7 3 13 = 13
      1 3 b7 13 = 13
      1 3 13 b7 = 13
      1 3 b7 9 13 = 13
      1 b7 9 3 13 = 13
      1 b7 3 13 9 = 13
      1 5 b7 3 13 = 13
      1 b7 3 5 13 = 13
      1 3 5 b7 13 = 13
      1 3 5 b7 9 13 = 13
      1 b7 1 3 13 = 13
      1 3 5 b7 9 #11 13 = 13#11
      1 3 b7 9 #11 13 = 13#11
      1 b7 3 #11 13 = 13#11
      1 3 5 b7 b9 13 = 13b9
      1 b7 3 b9 13 = 13b9
      1 b7 3 13 b9 = 13b9
      1 3 b7 b9 13 = 13b9
      1 5 b7 9 11 13 = 13sus4
      1 b7 9 11 13 = 13sus4
      1 3 5 7 9 13 = maj13
      1 3 7 9 13 = maj13
      1 3 7 13 = maj13 13:madd9/
      1 7 3 13 = maj13 13:madd9/
      1 b3 5 b7 9 13 = m13
      1 b3 b7 9 13 = m13
      1 b3 b7 13 = m13
      1 b7 b3 5 13 = m13
    `),
  },
  {
    practice: 'Third, seventh and eleventh make a minor eleventh; the ninth inside may be missing',
    rows: rows(`
      1 b3 b7 11 = m11
      1 b7 b3 11 = m11
      1 b3 5 b7 11 = m11
      1 11 b7 b3 5 = m11
      1 b3 b7 9 11 = m11
      1 b7 b3 5 11 = m11
      1 b3 5 b7 9 11 = m11
      1 5 b7 b3 11 = m11
      1 b7 9 b3 11 = m11
    `),
  },
  {
    practice: 'The raised eleventh: over a major seventh lydian, over a minor one lydian dominant',
    rows: rows(`
      1 3 7 #11 = maj7#11
      1 3 #11 7 = maj7#11
      1 7 3 #11 = maj7#11
      1 3 5 7 #11 = maj7#11
      1 5 7 3 #11 = maj7#11
      1 3 5 7 9 #11 = maj9#11
      1 3 7 9 #11 = maj9#11
      1 3 5 b7 #11 = 7#11
      1 b7 3 #11 = 7#11 7b5
      1 3 b7 9 #11 = 9#11
      1 3 5 b7 9 #11 = 9#11
    `),
  },
  {
    practice: 'Altered dominants: root, third and seventh, with what is altered above',
    rows: rows(`
      1 3 5 b7 b9 = 7b9
      1 3 b7 b9 = 7b9
      1 b7 3 b9 = 7b9
      1 b7 b9 3 = 7b9
      1 3 5 b7 #9 = 7#9
      1 3 b7 #9 = 7#9
      1 b7 3 #9 = 7#9
      1 5 b7 3 #9 = 7#9
      1 3 #5 b7 = 7#5 7b13
      1 3 b7 b13 = 7#5 7b13
      1 b7 3 b13 = 7#5 7b13
      1 3 b5 b7 = 7b5 7#11
      1 3 b7 b9 b13 = 7b9b13 7#5b9
      1 b7 3 b13 b9 = 7b9b13 7#5b9
      1 3 b7 #9 b13 = 7#9b13 7#5#9
      1 b7 3 b13 #9 = 7#9b13 7#5#9
      1 3 b7 b9 #11 = 7b9#11 7b5b9
      1 3 5 b7 b9 #11 = 7b9#11
      1 3 b7 #9 #11 = 7#9#11 7b5#9
      1 3 5 b7 b9 #9 = 7b9#9
      1 3 b7 9 b13 = 9b13 9#5
      3 b7 #9 = 7#9 #11:13
      1 5 11 b7 b9 = 7b9sus4
      1 3 #5 7 = maj7#5 3:maj/
    `),
  },
  {
    practice: 'Suspensions: the fourth or second in the third’s place, heard over their root',
    rows: rows(`
      1 4 5 = sus4
      1 5 11 = sus4
      1 5 1 11 = sus4
      1 2 5 = sus2
      1 5 9 = sus2
      1 5 1 9 = sus2
      11 1 5 = 11:sus2
      1 4 5 b7 = 7sus4
      1 5 b7 11 = 7sus4
      1 5 11 b7 = 7sus4
      1 b7 11 = 7sus4 11:sus4/ b7:sus2/
      1 4 5 b7 9 = 9sus4
      1 5 b7 9 11 = 9sus4
      1 b7 9 11 5 = 9sus4
      1 b7 9 11 = b7:maj/ 9sus4
      1 9 11 b7 = b7:maj/ 9sus4
      1 11 b7 9 = b7:maj/ 9sus4
      1 5 b7 9 = 5:m/ 9
      1 4 5 9 = sus2/4 sus4add9
    `),
  },
  {
    practice: 'Sixths, and the six nine chord, whose fifth or third may be missing',
    rows: rows(`
      1 3 5 6 = 6
      1 5 6 3 = 6
      1 6 3 5 = 6
      1 5 3 13 = 6
      1 3 6 9 = 6/9
      1 3 5 6 9 = 6/9
      1 6 9 5 3 = 6/9
      1 3 13 9 5 = 6/9
      1 5 9 13 = 6/9
      1 5 6 9 = 6/9
      1 9 5 13 = 6/9
      1 b3 5 6 = m6
      1 5 6 b3 = m6
      1 6 b3 5 = m6
      1 b3 5 6 9 = m6/9
      1 6 b3 5 9 = m6/9
    `),
  },
  {
    practice: 'Added tones over a triad whose root is lowest',
    rows: rows(`
      1 3 5 9 = add9
      1 9 3 5 = add9
      1 5 9 3 = add9
      1 5 3 9 = add9
      1 5 1 9 3 = add9
      1 3 9 = add9
      3 5 1 9 = add9/
      5 1 3 9 = add9/
      3 1 5 9 = add9/
      1 b3 5 9 = madd9
      1 9 b3 5 = madd9
      1 5 9 b3 = madd9
      1 5 b3 9 = madd9
      1 3 5 b9 = (addb9)
      1 5 3 b9 = (addb9)
      1 3 5 11 = add11
      1 5 3 11 = add11
      1 b3 5 11 = madd11
      1 3 5 #11 = add#11
    `),
  },
  {
    practice: 'A bass under a common triad is a slash chord before a heap of additions',
    rows: rows(`
      9 1 3 5 = maj/
      9 3 5 1 = maj/
      9 5 1 3 = maj/
      b9 1 3 5 = maj/
      b9 3 5 1 = maj/
      b3 1 3 5 = maj/
      11 1 3 5 = maj/
      11 3 5 1 = maj/
      11 5 1 3 = maj/
      #11 1 3 5 = maj/
      #11 3 5 1 = maj/
      b13 1 3 5 = maj/ b13:maj7#5
      13 1 3 5 = 13:m7
      b7 1 3 5 = 7/
      7 1 3 5 = maj7/
      9 1 b3 5 = m/
      11 1 b3 5 = m/
      11 b3 5 1 = m/
      #11 1 b3 5 = m/
      b13 1 b3 5 = b13:maj7
      13 1 b3 5 = 13:m7b5
      b7 1 b3 5 = m7/
      7 1 b3 5 = m(maj7)/
    `),
  },
  {
    practice: 'A seventh chord over the fourth or second below is the suspended chord on the bass',
    rows: rows(`
      11 1 b3 5 b7 = 11:9sus4
      9 1 3 5 13 = 9:9sus4
      9 1 3 5 7 = 9:13sus4
      9 13 1 3 5 = 9:9sus4
    `),
  },
];

/** Triads and sevenths of which every inversion keeps its name, by suffix; and their other names. */
export const INVERTED: readonly {
  readonly suffix: string;
  readonly degrees: string;
  /** The same sound on another root, as a name, which may be said too. */
  readonly also?: string;
  /** Where that root is lowest nothing else is said. */
  readonly alone?: string;
}[] = [
  { suffix: 'maj', degrees: '1 3 5' },
  { suffix: 'm', degrees: '1 b3 5' },
  { suffix: 'dim', degrees: '1 b3 b5' },
  { suffix: '7', degrees: '1 3 5 b7' },
  { suffix: 'maj7', degrees: '1 3 5 7' },
  { suffix: 'm(maj7)', degrees: '1 b3 5 7' },
  // A minor seventh over its third is the sixth chord on that, and so with half-diminished.
  { suffix: 'm7', degrees: '1 b3 5 b7', also: 'b3:6', alone: 'b3' },
  { suffix: 'm7b5', degrees: '1 b3 b5 b7', also: 'b3:m6', alone: 'b3' },
];
