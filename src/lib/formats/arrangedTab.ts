/** A way through a progression as a piece of tablature. */
import type { ArrangedWay } from '$lib/arrange/arrange';
import { DEFAULT_METRE, stepsOf, type Progression } from '$lib/arrange/progression';
import { strokesOf } from '$lib/playing/strokes';
import type { Setup } from '$lib/setup/setup';
import type { TabPiece, TabStep } from './tablature';

/** Every slot in order, those that are not played as rests. */
export function tabPieceOf(setup: Setup, progression: Progression, way: ArrangedWay): TabPiece {
  const { beats } = progression.metre ?? DEFAULT_METRE;
  const strokes = strokesOf(setup, progression, way.steps);
  const played = new Map(way.steps.map((step, at) => [step.index, { step, own: strokes[at] }]));
  return {
    title: progression.title ?? '',
    setup,
    steps: stepsOf(progression).map(({ chord, bar, slot, length }, index): TabStep => {
      const section = slot === 0 ? progression.bars[bar]?.section : undefined;
      const { step, own } = played.get(index) ?? {};
      return {
        chord: chord === 'no chord' ? 'N.C.' : chord.symbol,
        bar: bar + 1,
        beats: beats * length,
        ...(section === undefined ? {} : { section }),
        ...(step === undefined
          ? {}
          : {
              voicing: {
                neck: step.hold.neck,
                strings: step.voicing.strings,
                frets: step.voicing.frets,
                engaged: step.way,
              },
              held: own?.held ?? [],
              again: own?.again ?? [],
            }),
      };
    }),
  };
}
