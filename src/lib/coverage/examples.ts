/**
 * What one would play first with a pull set: three moves, the ones that show its strings, each of another
 * chord.
 */
import type { Choice } from '$lib/setup/reach';
import type { Control, Engaged } from '$lib/setup/setup';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { chordInKey, keyOn } from './inKey';
import { movesIn, positionsIn, type Move } from './useLists';
import { tonicOf, usesWith, type Use, type UseGround } from './uses';

const EXAMPLES = 3;

/** A chord at the nut: its type and its root in semitones from C. */
export interface ExampleChord {
  /** As it is written at the nut. */
  readonly symbol: string;
  readonly type: string;
  readonly root: number;
}

/** One thing to play, with the bar straight at the nut; the bar carries it up the neck. */
export interface Example {
  /** From 1. */
  readonly neck: number;
  /** What is engaged before and stays. */
  readonly held: Choice;
  readonly pressed: Engaged;
  /** What rings before; left out where that is no chord of the repertoire. */
  readonly from?: ExampleChord | undefined;
  readonly to: ExampleChord;
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** By string: before, and with the control. */
  readonly fromPitches: readonly Midi[];
  readonly toPitches: readonly Midi[];
  /** The root of the neck's open chord, in whose key chords are spelled. */
  readonly tonic: number;
}

type Candidate = Omit<Move, 'was'> & { readonly was: number | undefined };

/** Moves from a chord first, then positions that are reached from none. */
function candidatesOf({ by, setup, second }: UseGround, uses: readonly Use[]): Candidate[] {
  return [
    ...movesIn(by, uses, second),
    ...positionsIn(
      setup,
      by,
      uses.filter(({ was }) => was === undefined),
    ).map(({ use }) => ({ ...use, grips: [use] })),
  ];
}

/**
 * Three, what shows most of the strings first; moves from a chord before bare positions, other chords
 * before the same chord on other grips. Where one limb beside the control gives no three, and only
 * then, what takes a split or `far`, the ground with anything engaged beside it; fewer where nothing
 * more sounds a chord of the repertoire.
 */
export function examplesWith(
  ground: UseGround,
  pulls: Control['pulls'],
  far: () => UseGround = () => ground,
): Example[] {
  const { by } = ground;
  const chosen: Candidate[] = [];
  const shown = new Set<string>();
  /** Does an example move a string that none before it does? */
  const isFresh = ({ neck, grips: [grip] }: Candidate): boolean =>
    grip?.strings.some(
      (string, index) => grip.from[index] !== grip.to[index] && !shown.has(`${neck}.${string}`),
    ) ?? false;
  const fill = (candidates: readonly Candidate[]): void => {
    while (chosen.length < EXAMPLES) {
      const left = candidates.filter(
        ({ is, neck }) => !chosen.some((each) => is === each.is && neck === each.neck),
      );
      const best = left.find(isFresh) ?? left[0];
      if (best === undefined) return;
      chosen.push(best);
      const [grip] = best.grips;
      grip?.strings.forEach((string, index) => {
        if (grip.from[index] !== grip.to[index]) shown.add(`${best.neck}.${string}`);
      });
    }
  };
  const uses = usesWith(ground, pulls);
  const near = candidatesOf(
    ground,
    uses.filter(({ split }) => !split),
  );
  fill(near);
  if (chosen.length < EXAMPLES) fill(candidatesOf(ground, uses));
  if (chosen.length < EXAMPLES) fill(candidatesOf(ground, usesWith(far(), pulls)));
  const firsts = [...chosen];
  for (const each of firsts)
    for (const grip of each.grips.slice(1))
      if (chosen.length < EXAMPLES) chosen.push({ ...each, grips: [grip] });
  const chord = (chordNumber: number, neck: number): ExampleChord => ({
    symbol: chordInKey(by, chordNumber, 0, keyOn(tonicOf(ground, neck), 0)).symbol,
    type: by.types[Math.floor(chordNumber / 12)] ?? '',
    root: chromaOf(chordNumber),
  });
  return chosen.flatMap(({ neck, held, pressed, was, is, grips: [grip] }) =>
    grip === undefined
      ? []
      : [
          {
            neck,
            held,
            pressed,
            ...(was === undefined ? {} : { from: chord(was, neck) }),
            to: chord(is, neck),
            strings: grip.strings,
            fromPitches: grip.from,
            toPitches: grip.to,
            tonic: tonicOf(ground, neck),
          },
        ],
  );
}
