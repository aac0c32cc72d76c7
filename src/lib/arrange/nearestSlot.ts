/** What comes nearest to a chord that cannot be played as asked: one thing given up at a time, each tried. */
import { prettyName } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { prepare } from './prepared';
import { isPitch, type Step } from './progression';
import type { StepWishes, Wishes } from './wishes';

export interface Nearest {
  /** "the melody an octave lower" */
  readonly words: string;
  /** What the step's wishes become. */
  readonly change: StepWishes;
  /** Voicings in their ways that there are then. */
  readonly count: number;
}

interface Attempt {
  readonly words: string;
  readonly change: (own: StepWishes) => StepWishes;
  /** Whether there is anything to give up. */
  readonly applies: boolean;
}

const without = (own: StepWishes, ...parts: (keyof StepWishes)[]): StepWishes =>
  Object.fromEntries(
    Object.entries(own).filter(([part]) => !parts.includes(part as keyof StepWishes)),
  );

/** In the order of how little is given up. */
function attempts(wishes: Wishes, { melody }: Step, own: StepWishes): Attempt[] {
  const onTop = melody !== undefined && (own.melody ?? wishes.melody) !== 'off';
  const exact = onTop && isPitch(melody) && (own.melody ?? wishes.melody) === 'exact';
  const note = melody === undefined ? '' : prettyName(melody);
  const with_ = (part: StepWishes) => (before: StepWishes) => ({ ...before, ...part });
  const match = own.match ?? wishes.match;
  const sizes = own.sizes ?? wishes.sizes;
  return [
    {
      words: 'without its lock',
      change: (before) => without(before, 'hold', 'fret', 'top'),
      applies: own.hold !== undefined || own.fret !== undefined || own.top !== undefined,
    },
    {
      words: 'with a tone left out',
      change: with_({ match: 'lean' }),
      applies: match === 'complete',
    },
    {
      words: 'without its root',
      change: with_({ match: 'rootless' }),
      applies: match !== 'rootless',
    },
    {
      words: 'with the melody an octave lower',
      change: with_({ octaveDown: true }),
      applies: exact,
    },
    {
      words: `with ${note} on top in any octave`,
      change: with_({ melody: 'octave' }),
      applies: exact,
    },
    {
      words: 'with the bar slanted',
      change: with_({ slants: true }),
      applies: !(own.slants ?? wishes.slants),
    },
    {
      words: 'with the tones that must sound left free',
      change: with_({ anyTones: true }),
      applies: wishes.must.length > 0,
    },
    {
      words: 'along the whole neck',
      change: with_({ anyFret: true }),
      applies: wishes.frets !== undefined,
    },
    {
      words: 'with all controls',
      change: with_({ anyControl: true }),
      applies: wishes.without.length > 0,
    },
    { words: 'on two strings', change: with_({ sizes: [2, 4] }), applies: sizes[0] > 2 },
    {
      words: 'on three or four strings',
      change: with_({ sizes: [3, 4] }),
      applies: sizes[1] < 3,
    },
    {
      words: 'on up to six strings',
      change: with_({ sizes: [3, 6] }),
      applies: sizes[1] >= 3 && sizes[1] < 6,
    },
    { words: 'with any note on top', change: with_({ melody: 'off' }), applies: onTop },
    {
      words: 'without any limit',
      change: () => ({
        melody: 'off',
        match: 'rootless',
        slants: true,
        sizes: [2, 6],
        anyFret: true,
        anyTones: true,
        anyControl: true,
      }),
      applies: true,
    },
  ];
}

/** Attempts that give something, at most `most`. */
export function nearestFor(
  setup: Setup,
  wishes: Wishes,
  step: Step,
  index: number,
  most = 3,
): Nearest[] {
  const own = wishes.steps.get(index) ?? {};
  const found: Nearest[] = [];
  for (const { words, change, applies } of attempts(wishes, step, own)) {
    if (found.length === most) break;
    if (!applies) continue;
    const changed = change(own);
    const steps = new Map(wishes.steps).set(index, changed);
    const { count } = prepare(setup, { ...wishes, steps }, step, index).layer;
    // the same number again is the same voicings, offered for less before
    if (count > 0 && !found.some((less) => less.count === count))
      found.push({ words, change: changed, count });
  }
  return found;
}
