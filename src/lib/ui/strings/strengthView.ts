/** All that the page of strings and rigging shows of a setup, as texts and figures. */
import { rigging } from '$lib/strings/rigging';
import type { Setup } from '$lib/setup/setup';
import { balanceOf } from '$lib/strings/balance';
import type { BandSettings } from '$lib/strings/bands';
import { EFFORT_NOTE } from '$lib/strings/effort';
import { wearOf } from '$lib/strings/fatigue';
import { capacityText, overCapacity } from '$lib/strings/rig/overCapacity';
import { stringLoads, totalOf, type StringLoad } from '$lib/strings/loads';
import { forceText, type Units } from '$lib/strings/units';
import { firstToWearText } from '$lib/strings/verdict';
import { driftsOf, partingPairs } from '$lib/strings/warmth';
import { gaugesMissing, stringWarnings, type StringWarning } from '$lib/strings/warnings';
import { figure } from '$lib/ui/parts/figure';
import { savedSplits } from '$lib/tuning/splits';
import { splitText } from '$lib/tuning/stopText';
import {
  controlRows,
  stringRows,
  wearRows,
  type ControlRow,
  type StringRow,
  type WearRow,
} from './stringsView';

export interface StrengthView {
  readonly necks: readonly { readonly name: string; readonly rows: readonly StringRow[] }[];
  readonly warnings: readonly StringWarning[];
  /** All strings that have figures bear their loads. */
  readonly allHold: boolean;
  /** Sentences below the strings: the whole pull on the body, and neighbours that pull unevenly. */
  readonly together: readonly string[];
  readonly missing: string | undefined;
  /** Strings that need more rods than their fingers take, a sentence each. */
  readonly overCapacity: readonly string[];
  readonly estimated: boolean;
  readonly firstToWear: string | undefined;
  readonly worn: readonly WearRow[];
  readonly controls: readonly ControlRow[];
  readonly effortNote: string | undefined;
  readonly splits: readonly string[];
  readonly drifts: readonly {
    readonly key: string;
    readonly where: string;
    readonly cents: string;
  }[];
  readonly parting: string;
}

/** The most pairs that are said to part as it grows warmer. */
const MOST_PARTING = 5;

function togetherOf(
  setup: Setup,
  loads: readonly StringLoad[],
  bands: BandSettings,
  units: Units,
): string[] {
  const { totalN, without } = totalOf(loads);
  if (totalN <= 0) return [];
  const of = (neck: number): string =>
    setup.necks.length > 1 ? ` of ${setup.necks[neck - 1]?.name ?? ''}` : '';
  const uneven = balanceOf(loads, bands)
    .filter((pair) => pair.uneven)
    .map(
      ({ strings: [a, b], ratio, neck }) =>
        `Strings ${a} and ${b}${of(neck)} pull unevenly, ${Math.max(ratio, 1 / ratio).toFixed(1)} to 1.`,
    );
  const rest = without > 0 ? `, without ${without} that have no gauge entered` : '';
  return [
    `Together ${forceText(totalN, units).replace(/^\d{4,}/u, (whole) => figure(Number(whole)))} on the body${rest}.`,
    ...(uneven.length > 0
      ? uneven
      : [`No string pulls ${bands.unevenRatio} times as hard as its neighbour.`]),
  ];
}

export function strengthView(setup: Setup, bands: BandSettings, units: Units): StrengthView {
  const loads = stringLoads(setup, bands);
  const rows = stringRows(setup, bands, units);
  const warnings = stringWarnings(setup, bands);
  const controls = controlRows(rigging(setup, { bands }), units);
  const neckName = (neck: number): string =>
    setup.necks.length > 1 ? `${setup.necks[neck - 1]?.name ?? ''} ` : '';
  return {
    necks: setup.necks.map(({ name }, index) => ({
      name,
      rows: rows.filter(({ neck }) => neck === index + 1),
    })),
    warnings,
    allHold: warnings.length === 0 && totalOf(loads).totalN > 0,
    together: togetherOf(setup, loads, bands, units),
    missing: gaugesMissing(setup),
    overCapacity: overCapacity(setup).map((each) => `${capacityText(each, setup.necks.length)}.`),
    estimated: loads.some(({ load }) => load?.estimate),
    firstToWear: firstToWearText(setup, wearOf(setup)),
    worn: wearRows(setup),
    controls,
    effortNote: controls.some(({ effort }) => effort !== '') ? EFFORT_NOTE : undefined,
    splits: savedSplits(setup)
      .filter(({ ownStop }) => !ownStop)
      .map((split) => splitText(setup, split)),
    drifts: driftsOf(loads).map(({ neck, string, centsPerKelvin }) => ({
      key: `${neck}/${string}`,
      where: `${neckName(neck)}${string}`,
      cents: Math.abs(centsPerKelvin).toFixed(1),
    })),
    parting: partingPairs(loads)
      .slice(0, MOST_PARTING)
      .map(
        ({ strings: [a, b], centsPerKelvin, sameNote }) =>
          `${a} and ${b} by ${Math.abs(centsPerKelvin).toFixed(1)}${sameNote ? ' (the same note)' : ''}`,
      )
      .join('; '),
  };
}
