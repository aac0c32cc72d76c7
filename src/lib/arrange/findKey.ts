/** The key of a piece whose key is not given, from its chords. */
import { has, pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, type Chroma } from '$lib/theory/pitch';
import { commonRoot, isWritable, type Key } from '$lib/theory/spelling';
import { stepsOf, type Progression, type Step } from './progression';

/** C major and C minor with both sixths and sevenths; the tones a key's own chords are made of. */
const SCALES = {
  major: pcSetOf([0, 2, 4, 5, 7, 9, 11]),
  minor: pcSetOf([0, 2, 3, 5, 7, 8, 9, 10, 11]),
} as const;

// What speaks for a tonic, as shares of the piece's time. Fitted by hand to the tonics that listeners
// wrote down for the songs of `tests/reference/arrange-keys`, and rounded.
const WEIGHTS = {
  /** Each tone that is not in the scale, for as long as its chord lasts. */
  foreign: -0.3,
  /** The tonic's own triad, major or minor as the mode is: a piece dwells on it. */
  tonic: 1,
  /** The fifth below holds a song's key more often than the fifth above, which also leads away. */
  dominant: 0.3,
  subdominant: 0.45,
  /** Begins and ends there; counted once each, so that it decides short pieces. */
  first: 0.1,
  last: 0.1,
  /** Minor has nine tones in its scale; without this it would take what major cannot. */
  minor: -0.2,
} as const;

interface Heard {
  readonly root: Chroma;
  readonly chromas: readonly Chroma[];
  readonly minor: boolean;
  readonly length: number;
  readonly step: Step;
}

const heardIn = (progression: Pick<Progression, 'bars'>): Heard[] =>
  stepsOf(progression).flatMap((step) => {
    const { chord, length } = step;
    if (chord === 'no chord') return [];
    const minor = chord.tones.some(({ degree }) => degree === 'b3');
    const chromas = chord.tones.map(({ chroma }) => chroma);
    return [{ root: chromaOfName(chord.root), chromas, minor, length, step }];
  });

function score(heard: readonly Heard[], tonic: Chroma, mode: Key['mode']): number {
  const scale = transpose(SCALES[mode], tonic);
  const whole = heard.reduce((sum, { length }) => sum + length, 0);
  let sum = mode === 'minor' ? WEIGHTS.minor : 0;
  const isTonic = ({ root, minor }: Heard): boolean =>
    root === tonic && minor === (mode === 'minor');
  heard.forEach((each, index) => {
    const { root, chromas } = each;
    const length = each.length / whole;
    for (const chroma of chromas) if (!has(scale, chroma)) sum += WEIGHTS.foreign * length;
    if (isTonic(each)) {
      sum += WEIGHTS.tonic * length;
      if (index === 0) sum += WEIGHTS.first;
      if (index === heard.length - 1) sum += WEIGHTS.last;
    }
    if (root === chromaOf(tonic + 7)) sum += WEIGHTS.dominant * length;
    if (root === chromaOf(tonic + 5)) sum += WEIGHTS.subdominant * length;
  });
  return sum;
}

/** The given key, else the one that the chords speak for; C major where nothing does. */
export function keyOf(progression: Pick<Progression, 'bars' | 'key'>): Key {
  if (progression.key !== undefined) return progression.key;
  const heard = heardIn(progression);
  let best: { tonic: Chroma; mode: Key['mode'] } = { tonic: 0, mode: 'major' };
  let most = -Infinity;
  for (const mode of ['major', 'minor'] as const)
    for (let tonic = 0; tonic < 12; tonic++) {
      const sum = score(heard, tonic, mode);
      if (sum > most) [best, most] = [{ tonic, mode }, sum];
    }
  // written as the piece writes it where it does
  const own = heard.find(({ root }) => root === best.tonic)?.step.chord;
  const usual = commonRoot(best.tonic, best.mode === 'minor' ? 'm' : '');
  const written = {
    tonic: own === undefined || own === 'no chord' ? usual : own.root,
    mode: best.mode,
  };
  return isWritable(written) ? written : { tonic: usual, mode: best.mode };
}
