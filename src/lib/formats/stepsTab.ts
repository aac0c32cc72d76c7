/** Notes one after the other as tablature: a run through a scale, a ladder, a short passage. */
import type { TuneStep } from '$lib/arrange/tune';
import { fretsAheadOf } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import type { TabPiece, TabStep } from './tablature';

/** Of what it is made. */
export interface StepsTab {
  readonly title: string;
  readonly setup: Setup;
  readonly steps: readonly TuneStep[];
  /** By step: what stands above it, such as a degree or a chord; nothing where it is left out. */
  readonly above?: readonly string[];
  readonly remark?: string;
}

/** What is not struck rings on; the numbers tell whether bar or control move it. */
export function tabOfSteps({ title, setup, steps, above, remark }: StepsTab): TabPiece {
  return {
    title,
    setup,
    ...(remark === undefined ? {} : { remark }),
    steps: steps.map((step, index): TabStep => {
      const { hold, onset, strings, way } = step;
      const ahead = fretsAheadOf(hold);
      return {
        chord: above?.[index] ?? '',
        ...(above === undefined ? { unnamed: true as const } : {}),
        bar: onset.measure + 1,
        beats: onset.lasts,
        voicing: {
          neck: hold.neck,
          strings: hold.strings,
          frets: hold.strings.map((_, at) => hold.fret + (ahead?.[at] ?? 0)),
          engaged: way,
        },
        held: strings.filter(({ reached }) => reached !== 'picked').map(({ string }) => string),
      };
    }),
  };
}
