/** What `gripwright strings` prints. */
import { prettyPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { balanceOf } from '$lib/strings/balance';
import { BAND_SIGNS, type BandSettings } from '$lib/strings/bands';
import { EFFORT_NOTE, effortHolds, effortText } from '$lib/strings/effort';
import { WEAR_NOTE, wearOf } from '$lib/strings/fatigue';
import { gaugeAdvice, type WantedLoad } from '$lib/strings/gauges';
import { totalOf, type StringLoad } from '$lib/strings/loads';
import { capacityText, overCapacity } from '$lib/strings/rig/overCapacity';
import { type ControlFigures } from '$lib/strings/rigging';
import { savedSplits } from '$lib/tuning/splits';
import { splitText } from '$lib/tuning/stopText';
import { partingPairs } from '$lib/strings/warmth';
import { verdictOf, wearAt } from '$lib/strings/verdict';
import { gaugesMissing, stringWarnings } from '$lib/strings/warnings';
import { gaugeText } from '$lib/setup/gaugeText';
import { unitSign } from '$lib/strings/fieldUnits';
import { forceText, lengthText, movedText, type Units } from '$lib/strings/units';
import { print, table } from './out';

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const numbered = (necks: number, neck: number, string: number): string =>
  necks > 1 ? `${neck}/${string}` : String(string);

/** Prints a row a string: gauge, tension, shares of its strength, headroom, with what stands out below. */
export function printStrings(
  setup: Setup,
  bands: BandSettings,
  loads: readonly StringLoad[],
  units: Units,
): void {
  const necks = setup.necks.length;
  const worn = wearOf(setup);
  print(
    `Strings of “${setup.name}”, ${units === 'us' ? lengthText(setup.scaleLengthMm, units) : `${setup.scaleLengthMm} mm`}, A4 = ${setup.referenceHz} Hz`,
  );
  print('');
  print(
    table(
      ['string', 'open', 'gauge', 'tension', 'open', 'at top', 'headroom', 'slackest', ''],
      loads.map((each) => {
        const { load, missing } = each;
        const head = [
          numbered(necks, each.neck, each.string),
          prettyPitch(each.open),
          gaugeText(each),
        ];
        if (load === undefined) return [...head, missing ?? ''];
        return [
          ...head,
          forceText(load.tensionN, units),
          percent(load.shareOpen),
          percent(load.shareTop),
          `${load.headroomSemitones.toFixed(1)} st`,
          forceText(load.tensionBottomN, units),
          `${BAND_SIGNS[load.band]} ${verdictOf(load, wearAt(worn, each))}${load.estimate ? ', estimate' : ''}`,
        ];
      }),
    ),
  );
  const { totalN } = totalOf(loads);
  print('');
  print(
    `Together ${forceText(totalN, units)} on the body. Shares are of the wire’s least strength, open and at its highest raise.`,
  );
  const uneven = balanceOf(loads, bands).filter((pair) => pair.uneven);
  for (const {
    neck,
    strings: [a, b],
    ratio,
  } of uneven)
    print(
      `Strings ${numbered(necks, neck, a)} and ${numbered(necks, neck, b)} pull unevenly: one ${Math.max(ratio, 1 / ratio).toFixed(1)} times as hard as the other.`,
    );
  if (loads.some(({ load }) => load?.estimate))
    print(
      'Estimates: the core of a wound string is taken as .010 inch and 17 hundredths of its gauge, its winding as round steel wire.',
    );
  const missing = gaugesMissing(setup);
  if (missing !== undefined) print(missing);
  for (const { band, sentence } of stringWarnings(setup, bands))
    print(`${BAND_SIGNS[band]} ${sentence}`);
  for (const each of overCapacity(setup)) print(`${BAND_SIGNS.near} ${capacityText(each, necks)}.`);
}

/** Prints which string breaks first, and why; nothing where no gauge is known. */
export function printWear(setup: Setup): void {
  const worn = wearOf(setup);
  if (worn.length === 0) return;
  print('\nWhich breaks first');
  print('');
  print(
    table(
      ['', 'string', 'open', 'bend', 'pulls borne', 'why'],
      worn.map(({ rank, neck, string, bendingStrain, times, estimate, reason }) => {
        const open = setup.necks[neck - 1]?.strings[string - 1]?.open;
        return [
          `${rank}`,
          numbered(setup.necks.length, neck, string),
          open === undefined ? '' : prettyPitch(open),
          `${estimate ? '~' : ''}${(100 * bendingStrain).toFixed(2)} %`,
          times === undefined ? '' : `${times.toFixed(1)} ×`,
          reason,
        ];
      }),
      [0, 3, 4],
    ),
  );
  print(
    `\nBend is the strain of the wire’s outside on the finger; pulls borne are against those that the first string bears.\n${WEAR_NOTE}`,
  );
}

/** Prints how far each control moves its strings, and what the knee or foot has to do. */
export function printControls(controls: readonly ControlFigures[], units: Units): void {
  if (controls.length === 0) return;
  print(
    '\nPull lengths: how far each string moves at the changer, and its share of the control’s longest',
  );
  print('');
  print(
    table(
      [
        'control',
        'string',
        'way',
        'share',
        'work',
        'mean effort',
        `in it, ${unitSign('force', units)}`,
        '',
      ],
      controls.flatMap((control): string[][] => {
        const work = `${(1000 * control.workJ).toFixed(0)} mJ`;
        const { effort } = control;
        const told =
          effort === undefined ? ['', ''] : [effortText(effort, units), effortHolds(effort, units)];
        const note = [
          ...(control.heavy
            ? [`stands out as heavy: ${control.timesMiddle?.toFixed(1)} times the middle control`]
            : []),
          ...(control.without > 0 ? [`${control.without} without figures`] : []),
        ].join('; ');
        if (control.pulls.length === 0) return [[control.id, '', '', '', '', ...told, note]];
        return control.pulls.map((pull, index) => [
          index === 0 ? control.id : '',
          String(pull.string),
          movedText(pull.stretchMm, units, 2),
          percent(pull.share),
          ...(index === 0 ? [work, ...told, note] : []),
        ]);
      }),
      [2, 3, 4, 5],
    ),
  );
  if (controls.some(({ effort }) => effort !== undefined)) print(`\n${EFFORT_NOTE}`);
  if (controls.some(({ effort, pulls }) => effort === undefined && pulls.length > 0))
    print(
      '\nMean effort needs the travel of a control: travelMm in the setup, or --travel for all without one.',
    );
}

/** Prints the splits that have no stop of their own. */
export function printSplits(setup: Setup): void {
  const splits = savedSplits(setup).filter(({ ownStop }) => !ownStop);
  if (splits.length === 0) return;
  print('\nSplits: two controls on one string add their stretch, not their cents\n');
  for (const split of splits) print(splitText(setup, split));
}

/** Prints the strings of one note that warmth parts most. */
export function printWarmth(loads: readonly StringLoad[], necks: number): void {
  const pairs = partingPairs(loads)
    .filter(({ sameNote }) => sameNote)
    .slice(0, 3);
  if (pairs.length === 0) return;
  const texts = pairs.map(
    ({ neck, strings: [a, b], centsPerKelvin }) =>
      `${numbered(necks, neck, a)} and ${numbered(necks, neck, b)} by ${Math.abs(centsPerKelvin).toFixed(1)}`,
  );
  print(
    `\nWarmer by one degree, strings of one note part most: ${texts.join(', ')} cents (between ends that stay where they are).`,
  );
}

/** Prints the gauges that bear each string as wanted. */
export function printSuiting(setup: Setup, wanted: WantedLoad): void {
  print('\nGauges that would suit');
  print('');
  const necks = setup.necks.length;
  print(
    table(
      ['string', 'gauges'],
      gaugeAdvice(setup, wanted).map(({ neck, string, suiting, none }) => [
        numbered(necks, neck, string),
        none ?? suiting.map(gaugeText).join(' '),
      ]),
    ),
  );
}
