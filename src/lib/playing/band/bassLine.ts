/** What the bass plays: a chord's bass where it begins, its fifth and third after it, and steps that lead on. */
import type { Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, type Chroma } from '$lib/theory/pitch';
import type { ChordSpan, Hit, Pitched } from './hits';

/** E1, what a bass goes down to, and G2, above which it leads instead of supporting. */
const LOWEST = 28;
const HIGHEST = 43;
/** Places nearer than this are one (s). */
const SAME = 1e-6;
/** Seconds that a bass lasts at most that no grid asks for. */
const USUAL = 0.5;

/** The note that is lowest under a chord: what stands after the slash, else the root. */
export const bassOf = ({ bass, root }: Chord, transposed: number): Chroma =>
  chromaOf(chromaOfName(bass ?? root) + transposed);

/** In the lowest octave of the bass. */
const low = (chroma: Chroma): number => LOWEST + chromaOf(chroma - LOWEST);

/** The chord's tone of a role, below the bass note where there is room, else above; the bass note where none is. */
function toneUnder(
  chord: Chord,
  role: 'fifth' | 'third',
  root: number,
  transposed: number,
): number | undefined {
  const tone = chord.tones.find((each) => each.role === role);
  if (tone === undefined) return undefined;
  const above = root + chromaOf(tone.chroma + transposed - root);
  const below = above - 12;
  if (role === 'fifth' && below >= LOWEST) return below;
  return above <= HIGHEST ? above : Math.max(LOWEST, below);
}

/** What a letter of the grid means under a chord. */
function pitchOf(
  letter: string,
  chord: Chord,
  next: Chord | undefined,
  transposed: number,
  chance: () => number,
): number {
  const root = low(bassOf(chord, transposed));
  const third = toneUnder(chord, 'third', root, transposed);
  const fifth = toneUnder(chord, 'fifth', root, transposed);
  switch (letter) {
    case '5':
      return fifth ?? root;
    case '3':
      return third ?? fifth ?? root;
    case 'A': {
      const aim = next === undefined ? root : low(bassOf(next, transposed));
      if (aim === root) return third ?? fifth ?? root;
      // a semitone on either side leads; of the two not the note that has just been the chord's own
      const from = [aim - 1, aim + 1].filter((each) => each >= LOWEST && each !== root);
      return from[Math.floor(chance() * from.length)] ?? root;
    }
    default:
      return root;
  }
}

/**
 * The bass under chords, in order of time. Each chord has its bass where it begins, whatever the grid says;
 * under no chord there is none.
 *
 * @param chance numbers from 0 up to 1, from a seed
 */
export function bassLine(
  hits: readonly Hit[],
  spans: readonly ChordSpan[],
  transposed: number,
  chance: () => number,
): Pitched[] {
  return spans.flatMap(({ chord, from, until, next }): Pitched[] => {
    if (chord === 'no chord') return [];
    const own = hits.filter(({ at }) => at >= from - SAME && at < until - SAME);
    const [first] = own;
    if (first === undefined || first.at > from + SAME) {
      const room = (first?.at ?? until) - from;
      own.unshift({ at: from, lasts: Math.min(room, USUAL), level: 0.8, letter: 'R' });
    }
    return own.map((hit, index) => {
      const follows = own[index + 1]?.at ?? until;
      const isLast = index === own.length - 1;
      const letter = index === 0 ? 'R' : hit.letter === 'A' && !isLast ? '3' : hit.letter;
      return {
        at: hit.at,
        lasts: Math.min(hit.lasts, follows - hit.at),
        level: hit.level,
        midi: pitchOf(letter, chord, next, transposed, chance),
      };
    });
  });
}
