/**
 * What one would play first with a pull set: three moves, the ones that show its strings, each of another
 * chord.
 */
import type { Choice } from '$lib/setup/reach';
import type { Control, Engaged } from '$lib/setup/setup';
import type { Midi } from '$lib/theory/pitch';
import { chordInKey, keyOn } from './inKey';
import { movesIn, positionsIn } from './useLists';
import { tonicOf, usesWith, type UseGround } from './uses';

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

/** At most three, what shows most of the strings first; moves from a chord before bare positions. */
export function examplesWith(ground: UseGround, pulls: Control['pulls']): Example[] {
  const { by, setup } = ground;
  const uses = usesWith(ground, pulls).filter(({ split }) => !split);
  const candidates = [
    ...movesIn(by, uses),
    ...positionsIn(
      setup,
      by,
      uses.filter(({ was }) => was === undefined),
    ).map(({ use }) => ({ ...use, grips: [use] })),
  ];
  const chosen: (typeof candidates)[number][] = [];
  const shown = new Set<string>();
  /** Strings that an example moves and none before it. */
  const fresh = ({ neck, grips }: (typeof candidates)[number]): number => {
    const [grip] = grips;
    return (grip?.strings ?? []).filter(
      (string, index) => grip?.from[index] !== grip?.to[index] && !shown.has(`${neck}.${string}`),
    ).length;
  };
  while (chosen.length < EXAMPLES) {
    let best: (typeof candidates)[number] | undefined;
    for (const each of candidates)
      if (
        !chosen.some(({ is, neck }) => is === each.is && neck === each.neck) &&
        (best === undefined || Math.sign(fresh(each)) > Math.sign(fresh(best)))
      )
        best = each;
    if (best === undefined) break;
    chosen.push(best);
    const [grip] = best.grips;
    grip?.strings.forEach((string, index) => {
      if (grip.from[index] !== grip.to[index]) shown.add(`${best?.neck ?? 0}.${string}`);
    });
  }
  const chord = (chordNumber: number, neck: number): ExampleChord => ({
    symbol: chordInKey(by, chordNumber, 0, keyOn(tonicOf(ground, neck), 0)).symbol,
    type: by.types[Math.floor(chordNumber / 12)] ?? '',
    root: chordNumber % 12,
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
