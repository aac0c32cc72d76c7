/** The figures of strings and controls as texts, for the tables of the page. */
import { prettyPitch, spokenPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { BAND_SIGNS, type Band, type BandSettings } from '$lib/strings/bands';
import { stringLoads, type StringLoad } from '$lib/strings/loads';
import { effortHolds, effortText } from '$lib/strings/effort';
import { wearOf, type Wear } from '$lib/strings/fatigue';
import type { ControlFigures } from '$lib/strings/rigging';
import { forceText, movedText, type Units } from '$lib/strings/units';
import { verdictOf, wearAt } from '$lib/strings/verdict';
import { headroomText } from '$lib/strings/warnings';
import { gaugeText } from '$lib/setup/gaugeText';

export interface StringRow {
  readonly key: string;
  readonly neck: number;
  readonly string: number;
  readonly note: string;
  readonly spokenNote: string;
  readonly gauge: string;
  /** Left out where there are no figures. */
  readonly figures?: {
    readonly tension: string;
    /** 0 to 1 and beyond, for the bar. */
    readonly open: number;
    readonly top: number;
    readonly openText: string;
    readonly topText: string;
    /** `A4`, where the string is raised at all. */
    readonly topNote: string;
    readonly headroom: string;
    readonly slackest: string;
    readonly estimate: boolean;
    readonly band: Band;
    readonly sign: string;
    /** Of all strings that a control pulls. */
    readonly wearsFirst: boolean;
    readonly verdict: string;
  };
  readonly missing?: string;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function rowOf(setup: Setup, each: StringLoad, worn: readonly Wear[], units: Units): StringRow {
  const { neck, string, open, compass, load, missing } = each;
  const wear = wearAt(worn, each);
  const top = tuningPitch(setup.necks[neck - 1], open.midi + compass.up);
  return {
    key: `${neck}/${string}`,
    neck,
    string,
    note: prettyPitch(open),
    spokenNote: spokenPitch(open),
    gauge: gaugeText(each),
    ...(missing === undefined ? {} : { missing }),
    ...(load === undefined
      ? {}
      : {
          figures: {
            tension: forceText(load.tensionN, units),
            open: load.shareOpen,
            top: load.shareTop,
            openText: percent(load.shareOpen),
            topText: percent(load.shareTop),
            topNote: compass.up > 0 ? prettyPitch(top) : '',
            headroom: headroomText(load.headroomSemitones),
            slackest: forceText(load.tensionBottomN, units),
            estimate: load.estimate,
            band: load.band,
            sign: BAND_SIGNS[load.band],
            wearsFirst: wear?.rank === 1 && wear.pulls.length > 0,
            verdict: verdictOf(load, wear),
          },
        }),
  };
}

export function stringRows(
  setup: Setup,
  bands: BandSettings,
  units: Units = 'metric',
): StringRow[] {
  const worn = wearOf(setup);
  return stringLoads(setup, bands).map((each) => rowOf(setup, each, worn, units));
}

export interface PullRow {
  readonly key: string;
  readonly neck: number;
  readonly string: number;
  readonly way: string;
  readonly share: number;
  readonly shareText: string;
  readonly half?: string;
}

export interface ControlRow {
  readonly id: string;
  readonly work: string;
  readonly effort: string;
  /** What the effort holds, term by term. */
  readonly holds: string;
  readonly heavy: string;
  readonly without: number;
  readonly pulls: readonly PullRow[];
}

export const controlRows = (
  controls: readonly ControlFigures[],
  units: Units = 'metric',
): ControlRow[] =>
  controls.map((control) => ({
    id: control.id,
    work: `${(1000 * control.workJ).toFixed(0)} mJ`,
    effort: control.effort === undefined ? '' : effortText(control.effort, units),
    holds: control.effort === undefined ? '' : effortHolds(control.effort, units),
    heavy: control.heavy
      ? `stands out as heavy, ${control.timesMiddle?.toFixed(1) ?? ''} times the median control`
      : '',
    without: control.without,
    pulls: control.pulls.map((pull) => ({
      key: `${pull.neck}/${pull.string}`,
      neck: pull.neck,
      string: pull.string,
      way: movedText(pull.stretchMm, units, 2),
      share: pull.share,
      shareText: percent(pull.share),
      ...(pull.halfShare === undefined ? {} : { half: percent(pull.halfShare) }),
    })),
  }));

/** A string among those that break first, as the page tells it. */
export interface WearRow {
  readonly key: string;
  readonly rank: number;
  readonly neck: number;
  readonly string: number;
  readonly note: string;
  readonly spokenNote: string;
  /** Pulls borne against the first string's: `3.4 times`; empty where it is not pulled. */
  readonly times: string;
  /** `1.38 %`, `≈ 2.01 %`. */
  readonly bend: string;
  readonly reason: string;
}

/** The strings in the order in which they wear out, the first at the head; none without figures. */
export const wearRows = (setup: Setup): WearRow[] =>
  wearOf(setup).flatMap(({ neck, string, rank, times, bendingStrain, estimate, reason }) => {
    const open = setup.necks[neck - 1]?.strings[string - 1]?.open;
    if (open === undefined) return [];
    return [
      {
        key: `${neck}/${string}`,
        rank,
        neck,
        string,
        note: prettyPitch(open),
        spokenNote: spokenPitch(open),
        times: times === undefined || rank === 1 ? '' : `${times.toFixed(1)} times as many pulls`,
        bend: `${estimate ? '≈ ' : ''}${(100 * bendingStrain).toFixed(2)} %`,
        reason,
      },
    ];
  });
