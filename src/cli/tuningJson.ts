/** The figures of `gripwright tuning --json`. */
import type { Setup } from '$lib/setup/setup';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import type { Method } from '$lib/tuning/methods';
import { givenText } from '$lib/tuning/stopText';
import type { Tuning } from '$lib/tuning/tune';

/** By what is tuned, and what that is compared with. */
export interface TuningMethods {
  readonly method: Method;
  readonly against?: Method;
}

/** In JSON a method is called as ever. */
const jsonMethod = (method: Method | undefined): string | undefined =>
  method === 'fitted' ? 'sweet' : method;

/** What `--json` says: every stop, split and chord of the necks that were asked for. */
export const tuningJson = (
  setup: Setup,
  { method, against }: TuningMethods,
  made: readonly Tuning[],
  others: readonly Tuning[] | undefined,
) => ({
  setup: setup.name,
  method: jsonMethod(method),
  referenceHz: setup.referenceHz,
  anchors: made.map(({ neck, anchor }) => ({ neck, string: anchor })),
  residualBefore: made.map(({ residualBefore }) => residualBefore),
  residualAfter: made.map(({ residualAfter }) => residualAfter),
  residualApart: made.map(({ residualApart }) => residualApart ?? null),
  targets: made.flatMap(({ targets }, index) =>
    targets.map(({ given, ...target }, stop) => {
      const other = others?.[index]?.targets[stop];
      return {
        ...target,
        decided: given === undefined,
        ...(given === undefined ? {} : { given: givenText(given) }),
        ...(other === undefined
          ? {}
          : { against: { method: jsonMethod(against), cents: other.cents, hz: other.hz } }),
      };
    }),
  ),
  splits: made.flatMap(({ splits }) => splits),
  chords: made.flatMap(({ uses }) =>
    uses.map(({ use, before, after, impure }) => ({
      symbol: use.symbol,
      voicing: { neck: use.neck, fret: use.fret, controls: use.engaged, strings: use.strings },
      weight: use.weight,
      residualBefore: before.residual,
      residualAfter: after.residual,
      beatsBeforeHz: before.beatsHz,
      beatsHz: after.beatsHz,
      ...(method === 'just' ? { impure } : {}),
    })),
  ),
  unplayable: made.flatMap(({ neck, unplayable }) =>
    unplayable.map((symbol) => ({ neck, symbol })),
  ),
  cautions: STRING_CAUTIONS,
});
