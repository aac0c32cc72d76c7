/** `gripwright strings`: whether the strings bear a setup, and what its controls have to do. */
import { InvalidArgumentError, Option } from 'commander';
import { DEFAULT_BANDS, type BandSettings } from '$lib/strings/bands';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { USUAL_LOAD, type WantedLoad } from '$lib/strings/gauges';
import { stringLoads } from '$lib/strings/loads';
import { rigging } from '$lib/strings/rigging';
import { keptIn } from '$lib/strings/fieldUnits';
import { type Units } from '$lib/strings/units';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { decimal, unitsOption } from './options';
import { print, printJson } from './out';
import { stringsJson } from './stringsJson';
import {
  printControls,
  printSplits,
  printStrings,
  printSuiting,
  printWarmth,
  printWear,
} from './stringsText';

interface StringsOptions {
  readonly setup: string;
  readonly near: number;
  readonly over: number;
  /** In the units that were chosen. */
  readonly travel?: number;
  readonly suit?: boolean;
  /** In the units that were chosen. */
  readonly tension?: readonly [number, number];
  readonly units: Units;
  readonly headroom: readonly [number, number];
  readonly json?: boolean;
}

/** A number above nought. */
function positive(text: string): number {
  const value = decimal(text) ?? 0;
  if (value <= 0) throw new InvalidArgumentError('A number above 0 is wanted.');
  return value;
}

/** `90-150`, or one number that is the least. */
function span(text: string): readonly [number, number] {
  const match = /^(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))?$/.exec(text);
  const least = Number(match?.[1]);
  const most = match?.[2] === undefined ? Infinity : Number(match[2]);
  if (!match || least > most)
    throw new InvalidArgumentError('A range such as 90-150 is wanted, the least first.');
  return [least, most];
}

/** Adds the job `strings`. */
export function addStrings(job: MakeJob): void {
  job('strings', 'tension, headroom and rigging of every string and control')
    .option(
      '--near <percent>',
      'share of the wire’s strength from which a string is close to breaking',
      positive,
      100 * DEFAULT_BANDS.shareNear,
    )
    .option(
      '--over <percent>',
      'share from which it is over the limit',
      positive,
      100 * DEFAULT_BANDS.shareBeyond,
    )
    .option(
      '--travel <length>',
      'travel of pedals and levers where the setup has none, in mm or in',
      positive,
    )
    .option('--suit', 'which gauges would suit each string')
    .option(
      '--tension <forces>',
      `open tension wanted with --suit, in N or lb, such as 90-150 (${USUAL_LOAD.tensionN.join('-')} N where left out)`,
      span,
    )
    .addOption(
      new Option('--headroom <semitones>', 'headroom wanted with --suit, such as 1 or 1-12')
        .argParser(span)
        .default(USUAL_LOAD.headroomSemitones, USUAL_LOAD.headroomSemitones.join('-')),
    )
    .addOption(unitsOption())
    .action((options: StringsOptions) => {
      strings(options);
    });
}

function strings(options: StringsOptions): void {
  const setup = loadSetup(options.setup);
  const bands: BandSettings = {
    ...DEFAULT_BANDS,
    shareNear: options.near / 100,
    shareBeyond: options.over / 100,
  };
  const { units, tension, travel } = options;
  const wanted: WantedLoad = {
    tensionN:
      tension === undefined
        ? USUAL_LOAD.tensionN
        : [keptIn(tension[0], 'force', units), keptIn(tension[1], 'force', units)],
    headroomSemitones: options.headroom,
  };
  const loads = stringLoads(setup, bands);
  const controls = rigging(setup, {
    bands,
    travelMm: travel && keptIn(travel, 'length', units),
  });
  if (options.json)
    printJson(stringsJson(setup, bands, loads, controls, options.suit ? wanted : undefined));
  else {
    printStrings(setup, bands, loads, units);
    printWear(setup);
    printControls(controls, units);
    printSplits(setup);
    printWarmth(loads, setup.necks.length);
    if (options.suit) printSuiting(setup, wanted);
    print('');
    for (const caution of STRING_CAUTIONS) print(`⚠ ${caution}`);
  }
}
