/** The chord that a tuning is made around, on which the bar lies at every fret. */
import { has, pcSetOf, transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import type { Neck } from './setup';

const MAJOR = pcSetOf([0, 4, 7]);
const MINOR = pcSetOf([0, 3, 7]);

/** The major and minor triads that most open strings belong to: mostly one, level ones together. */
function homeTriads(neck: Neck): { root: Chroma; set: PcSet }[] {
  const chromas = neck.strings.map((string) => chromaOf(string.open.midi));
  let most = 0;
  let level: { root: Chroma; set: PcSet }[] = [];
  for (const triad of [MAJOR, MINOR])
    for (let root = 0; root < 12; root++) {
      const set = transpose(triad, root);
      const strings = chromas.filter((chroma) => has(set, chroma)).length;
      if (strings > most) {
        most = strings;
        level = [];
      }
      if (strings > 0 && strings === most) level.push({ root, set });
    }
  return level;
}

/**
 * The pitch classes of a tuning's home chord: the major or minor triad that most open strings belong
 * to; where several are level, all of them together (C and A minor make the C6 of a C6 neck).
 */
export const homeChord = (neck: Neck): PcSet =>
  homeTriads(neck).reduce((home, { set }) => home | set, 0);

/** The root of the home chord at the nut, where one triad alone is it. */
export function homeRoot(neck: Neck): Chroma | undefined {
  const [first, ...level] = homeTriads(neck);
  return level.length === 0 ? first?.root : undefined;
}

/** At the nut, the roots of all triads that the home chord is made of. */
export const homeRoots = (neck: Neck): Chroma[] => homeTriads(neck).map(({ root }) => root);

const SIXTH = pcSetOf([0, 4, 7, 9]);

/**
 * At the nut, the root of the sixth chord by which a tuning is called: its home chord is one, as that of a C6 neck
 * is, or all its open strings together, as those of an A6.
 */
export function homeSixth(neck: Neck): Chroma | undefined {
  const triads = homeTriads(neck);
  const home = triads.reduce((all, { set }) => all | set, 0);
  const open = pcSetOf(neck.strings.map((string) => string.open.midi));
  return triads.find(({ root }) => [home, open].includes(transpose(SIXTH, root)))?.root;
}
