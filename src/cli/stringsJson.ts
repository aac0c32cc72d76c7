/** What `gripwright strings --json` prints. */
import { pitchText } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { balanceOf } from '$lib/strings/balance';
import type { BandSettings } from '$lib/strings/bands';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { wearOf, type Wear } from '$lib/strings/fatigue';
import { gaugeAdvice, type WantedLoad } from '$lib/strings/gauges';
import { totalOf, type StringLoad } from '$lib/strings/loads';
import { capacities } from '$lib/strings/rig/capacity';
import type { ControlFigures } from '$lib/strings/rigging';
import { verdictOf, wearAt } from '$lib/strings/verdict';
import { driftsOf } from '$lib/strings/warmth';
import { stringWarnings } from '$lib/strings/warnings';
import { savedSplits } from '$lib/tuning/splits';

/** The figures of the job `strings`, in the setup's order of strings and controls. */
export const stringsJson = (
  setup: Setup,
  bands: BandSettings,
  loads: readonly StringLoad[],
  controls: readonly ControlFigures[],
  wanted: WantedLoad | undefined,
  worn: readonly Wear[] = wearOf(setup),
) => ({
  strings: loads.map(({ neck, string, open, gauge, wound, compass, load, missing }) => ({
    neck,
    string,
    open: pitchText(open),
    gauge: gauge ?? null,
    wound,
    raise: compass.up,
    lower: compass.down,
    tensionN: load?.tensionN ?? null,
    tensionTopN: load?.tensionTopN ?? null,
    tensionBottomN: load?.tensionBottomN ?? null,
    stressMpa: load?.stressMpa ?? null,
    strengthMpa: load?.wire.strengthMpa ?? null,
    shareOpen: load?.shareOpen ?? null,
    shareTop: load?.shareTop ?? null,
    headroomSemitones: load?.headroomSemitones ?? null,
    headroomCents: load?.headroomCents ?? null,
    estimate: load?.estimate ?? null,
    ...(load?.wire.assumption === undefined ? {} : { assumption: load.wire.assumption }),
    ...(missing === undefined ? {} : { missing }),
    band: load?.band ?? null,
    wearRank: wearAt(worn, { neck, string })?.rank ?? null,
    verdict: load === undefined ? null : verdictOf(load, wearAt(worn, { neck, string })),
  })),
  totalN: totalOf(loads).totalN,
  stringsWithout: totalOf(loads).without,
  balance: balanceOf(loads, bands),
  rods: capacities(setup),
  controls: controls.map(({ longest, ...control }) => ({
    ...control,
    longestMm: longest?.stretchMm ?? null,
    effort: control.effort ?? null,
  })),
  wear: worn,
  splits: savedSplits(setup),
  warmth: driftsOf(loads),
  ...(wanted === undefined
    ? {}
    : {
        suiting: gaugeAdvice(setup, wanted).map(({ suiting, ...advice }) => ({
          ...advice,
          suiting: suiting.map(({ gauge, wound, load }) => ({
            gauge,
            wound,
            tensionN: load.tensionN,
            headroomSemitones: load.headroomSemitones,
          })),
        })),
      }),
  warnings: stringWarnings(setup, bands),
  cautions: STRING_CAUTIONS,
});
