/**
 * What a player must hear about the strings of a setup before it is rigged: a sentence each, for every
 * place where a setup is changed.
 */
import { prettyPitch } from '$lib/theory/display';
import type { Neck, Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { gaugeText } from '$lib/setup/gaugeText';
import { DEFAULT_BANDS, type Band, type BandSettings } from './bands';
import { stringLoads, type Load, type StringLoad } from './loads';

export interface StringWarning {
  readonly neck: number;
  readonly string: number;
  readonly band: Exclude<Band, 'fine'>;
  readonly about: 'strength' | 'slack' | 'heavy';
  /** Share of the least tensile strength at the highest raise. */
  readonly share: number;
  readonly headroomSemitones: number;
  /** For people; says what and why, with the band in words. */
  readonly sentence: string;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** `2.4 semitones`; less than one in cents. */
export const headroomText = (semitones: number): string =>
  Math.abs(semitones) < 1
    ? `${Math.round(100 * semitones)} cents`
    : `${semitones.toFixed(1)} semitones`;

/** `String 3 (G♯4, .011)`; the neck too where there are several. */
function stringName({ neck, string, open, gauge, wound }: StringLoad, necks: number): string {
  const where = necks > 1 ? ` of neck ${neck}` : '';
  const wire = gauge === undefined ? '' : `, ${gaugeText({ gauge, wound })}`;
  return `String ${string}${where} (${prettyPitch(open)}${wire})`;
}

/** What is said of a string that is near a limit or over one. */
function sentenceOf(
  each: StringLoad,
  load: Load,
  about: StringWarning['about'],
  who: string,
  neck: Neck | undefined,
): string {
  const top = prettyPitch(tuningPitch(neck, each.open.midi + each.compass.up));
  const bottom = prettyPitch(tuningPitch(neck, each.open.midi + each.compass.down));
  const guess = load.estimate ? ' (an estimate)' : '';
  const band = load.bands[about];
  if (about === 'strength') {
    const at = each.compass.up > 0 ? `raised to ${top}` : 'open';
    const stands = `${who} ${at} stands at ${percent(load.shareTop)}${guess} of the wire’s least strength`;
    return band === 'beyond'
      ? `${stands}: over the limit, it is likely to break.`
      : `${stands}: close to breaking, ${headroomText(load.headroomSemitones)} below it.`;
  }
  if (about === 'slack') {
    const at = each.compass.down < 0 ? `lowered to ${bottom}` : 'open';
    return `${who} ${at} has only ${Math.round(load.tensionBottomN)} N of tension${guess}: ${band === 'beyond' ? 'it is slack' : 'it is nearly slack'}.`;
  }
  const at = each.compass.up > 0 ? `raised to ${top}` : 'open';
  return `${who} ${at} pulls with ${Math.round(load.tensionTopN)} N${guess}: ${band === 'beyond' ? 'far more' : 'more'} than instruments are made for.`;
}

/** Every string that is near a limit or over one, the worst first. */
export function stringWarnings(setup: Setup, bands: BandSettings = DEFAULT_BANDS): StringWarning[] {
  const warnings: StringWarning[] = [];
  for (const each of stringLoads(setup, bands)) {
    const { load } = each;
    if (load === undefined) continue;
    for (const about of ['strength', 'slack', 'heavy'] as const) {
      const band = load.bands[about];
      if (band === 'fine') continue;
      warnings.push({
        neck: each.neck,
        string: each.string,
        band,
        about,
        share: load.shareTop,
        headroomSemitones: load.headroomSemitones,
        sentence: sentenceOf(
          each,
          load,
          about,
          stringName(each, setup.necks.length),
          setup.necks[each.neck - 1],
        ),
      });
    }
  }
  return warnings.sort((a, b) => Number(b.band === 'beyond') - Number(a.band === 'beyond'));
}

/** What a change brings: warnings that were not there before, or are worse than they were. */
export function warningsOfChange(
  before: Setup,
  after: Setup,
  bands: BandSettings = DEFAULT_BANDS,
): StringWarning[] {
  const were = stringWarnings(before, bands);
  return stringWarnings(after, bands).filter(
    (is) =>
      !were.some(
        (was) =>
          was.neck === is.neck &&
          was.string === is.string &&
          was.about === is.about &&
          was.sentence === is.sentence,
      ),
  );
}

/** How many strings have no gauge, as a sentence; nothing where all have. */
export function gaugesMissing(setup: Setup): string | undefined {
  const strings = setup.necks.flatMap((neck) => neck.strings);
  const without = strings.filter(({ gauge }) => gauge === undefined).length;
  if (without === 0) return undefined;
  if (without === strings.length)
    return 'No gauge is entered, so nothing can be said about string strength.';
  return `${without} of ${strings.length} strings have no gauge entered; nothing is said about those.`;
}
