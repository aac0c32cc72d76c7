/**
 * Facts about chord types, apart from the code that uses them: which are everyday ones and in what
 * order, how we write them, what the theory library lacks, and where we differ from it.
 */

/** A type as it is written here, the name it has in the library (if another), and its degrees. */
export interface TypeRow {
  /** Canonical suffix in plain letters; empty for a major triad. */
  readonly suffix: string;
  /** An alias of the same type in `tonal`'s dictionary, where ours is not one. */
  readonly tonal?: string;
  /** Degrees, where the dictionary lacks the type or has them otherwise. */
  readonly degrees?: string;
}

const plain = (suffixes: string): TypeRow[] =>
  suffixes.split(' ').map((suffix): TypeRow => ({ suffix }));

/**
 * Everyday types, commonest first. The order has three sources:
 * 1. `` … `maj9`: how often each stands in the McGill Billboard annotations (112,307 labels;
 *    Burgoyne, Wild, Fujinaga, ISMIR 2011).
 * 2. `9` … `9#5`: the count of labels in the 247 songs of it that may be passed on. Where two types
 *    have the same pitch classes the simpler one goes first (`7#5` before `7b13`).
 * 3. The rest is our own judgement: what is met in lead sheets before what is built on paper.
 */
export const EVERYDAY: readonly TypeRow[] = [
  { suffix: '' },
  ...plain('m 7 m7 maj7 5 add9 sus4 6 9sus4 7sus4 m9 7#9 maj9'),
  ...plain('11 m6 9 m7b5 6/9 dim 7b9 m11 madd9'),
  { suffix: 'sus2/4', tonal: 'sus24' },
  ...plain('sus2 13sus4 m13 m7add11'),
  // A major triad with the fourth above: lead sheets' "add4" or "add11"; degrees by its name.
  { suffix: 'add11', degrees: '1 3 5 11' },
  { suffix: 'm(maj7)', tonal: 'mM7' },
  ...plain('7#11 aug 7#5 7b13 7b9b13 dim7 maj9#11 13 9#5'),
  ...plain('maj13 maj7#11'),
  { suffix: 'm6/9', tonal: 'm69' },
  ...plain('13b9 13#11 9#11 7b5 7b9#11 maj7#5'),
  { suffix: 'maj7sus4', tonal: 'M7sus4' },
  { suffix: '7b9sus4' },
  // MusicXML 4.0 kind-value "major-11th": major-ninth and perfect 11th.
  { suffix: 'maj11', degrees: '1 3 5 7 9 11' },
  { suffix: 'm(maj9)', tonal: 'mM9' },
  { suffix: 'madd11', tonal: 'madd4', degrees: '1 b3 5 11' },
  // The library writes the ninth of `m9b5` as a second.
  { suffix: 'm9b5', degrees: '1 b3 b5 b7 9' },
  ...plain('7b9#9 7#9b13 7#5#9 7#5b9 7add13'),
  { suffix: '6/9#11', tonal: '69#11' },
  ...plain('13#9 maj9#5 7#9#11'),
];

/** Types that are read and written, but are no first choice when a sound is to be named. */
export const RARE: readonly TypeRow[] = [
  { suffix: 'dim(maj7)', tonal: 'oM7' },
  { suffix: 'maj7b5', tonal: 'M7b5' },
  { suffix: '(b5)', tonal: 'Mb5' },
  // A major triad with the raised fourth above; degrees by its name.
  { suffix: 'add#11', degrees: '1 3 5 #11' },
  { suffix: '9b5' },
  { suffix: '13#9#11' },
  { suffix: '13b9#11' },
  { suffix: 'maj13#11' },
  // The library writes the fifth as perfect beside the sharp eleventh for `7b5b9` and `7b5#9` too.
  // A name that says b5 has no perfect fifth here, as in MusicXML's "alter".
  { suffix: '7b5b9', degrees: '1 3 b5 b7 b9' },
  { suffix: '7b5#9', degrees: '1 3 b5 b7 #9' },
  { suffix: '6b5', degrees: '1 3 b5 6' },
  { suffix: '7b5b13', degrees: '1 3 b5 b7 b13' },
  { suffix: '9b5b13', degrees: '1 3 b5 b7 9 b13' },
  { suffix: '7b5b9b13', degrees: '1 3 b5 b7 b9 b13' },
  { suffix: '6#11' },
  { suffix: '9b13' },
  { suffix: '11b9' },
  { suffix: '7#11b13' },
  { suffix: '9#11b13' },
  { suffix: '7b9#11b13' },
  { suffix: '7#9#11b13' },
  { suffix: '7#5b9#11' },
  { suffix: '9#5#11' },
  { suffix: '7b9b13sus4' },
  { suffix: '7#5sus4' },
  { suffix: 'maj7#5sus4', tonal: 'M7#5sus4' },
  { suffix: 'maj9sus4', tonal: 'M9sus4' },
  { suffix: 'maj9#5sus4', tonal: 'M9#5sus4' },
  // A major seventh with the second in the third's place; degrees by its name.
  { suffix: 'maj7sus2', degrees: '1 2 5 7' },
  // The same with a minor seventh: the Billboard label "sus2(b7)".
  { suffix: '7sus2', degrees: '1 2 5 b7' },
  { suffix: '7b6' },
  { suffix: 'maj7b9', tonal: 'M7b9' },
  { suffix: 'maj7#9#11' },
  { suffix: 'maj9b5', tonal: 'M9b5' },
  { suffix: '13b5', degrees: '1 3 b5 b7 9 13' },
  // In brackets, so that the flat is not read with a root: `C(addb9)`.
  { suffix: '(addb9)', tonal: 'Maddb9' },
  { suffix: 'augadd9', tonal: '+add9' },
  { suffix: 'augadd#9', tonal: '+add#9' },
  // The library writes a minor sixth in `m7#5` and `m9#5`; the name says a raised fifth.
  { suffix: 'm#5' },
  { suffix: 'm7#5', degrees: '1 b3 #5 b7' },
  { suffix: 'm9#5', degrees: '1 b3 #5 b7 9' },
  { suffix: 'm11#5', tonal: 'm11A' },
  { suffix: 'm(maj7)b6', tonal: 'mMaj7b6' },
  { suffix: 'm(maj9)b6', tonal: 'mMaj9b6' },
  // A diminished seventh with a major seventh above; the library writes its bb7 as a sixth.
  { suffix: 'dim7(addmaj7)', tonal: 'o7M7', degrees: '1 b3 b5 bb7 7' },
];
