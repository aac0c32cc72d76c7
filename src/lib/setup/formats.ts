/**
 * What each format of setup files brought. A file says the least format that can say it: an older program
 * reads what it can, and refuses the rest with the reason that the format is newer.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { isRecord, recordsIn, type Parsed } from './parsed';
import { HAND, LEFT_KNEE_2, RIGHT_KNEE_2 } from './setup';
import type { FORMATS } from './setupFile';

type Format = (typeof FORMATS)[number];

/** Stations that format 1 does not know. */
const STATIONS_OF_2: readonly unknown[] = [...LEFT_KNEE_2, ...RIGHT_KNEE_2, ...HAND];

/** What a format brought: stations, and keys by the object that has them. */
interface News {
  readonly format: Exclude<Format, 1>;
  readonly stations: readonly unknown[];
  readonly setup: readonly string[];
  readonly string: readonly string[];
  readonly control: readonly string[];
  readonly pull: readonly string[];
}
const NEWS: readonly News[] = [
  {
    format: 3,
    stations: [],
    setup: ['changer'],
    string: ['raiseHolesMm', 'lowerHolesMm'],
    control: ['shaftMm', 'turnDegrees', 'mostTurnDegrees'],
    pull: ['hole', 'crank'],
  },
  {
    format: 2,
    stations: STATIONS_OF_2,
    setup: ['fingerRadiusMm', 'splitStops'],
    string: [],
    control: ['forceN', 'springN', 'slackMm', 'usage'],
    pull: ['splitCents'],
  },
];

/** The first place that only this format can say; `undefined` where an older one says all of it. */
function placeOf(file: Parsed, news: News): string | undefined {
  const keyIn = (object: Parsed, keys: readonly string[]): string | undefined =>
    keys.find((key) => object[key] !== undefined);
  const ofSetup = keyIn(file, news.setup);
  if (ofSetup !== undefined) return ofSetup;
  for (const [neck, n] of recordsIn(file['necks']))
    for (const [string, s] of recordsIn(neck['strings'])) {
      const ofString = keyIn(string, news.string);
      if (ofString !== undefined) return `necks[${n}].strings[${s}].${ofString}`;
    }
  for (const [control, index] of recordsIn(file['controls'])) {
    const key = news.stations.includes(control['station'])
      ? 'station'
      : keyIn(control, news.control);
    if (key !== undefined) return `controls[${index}].${key}`;
    for (const [pull, p] of recordsIn(control['pulls'])) {
      const ofPull = keyIn(pull, news.pull);
      if (ofPull !== undefined) return `controls[${index}].pulls[${p}].${ofPull}`;
    }
  }
  return undefined;
}

/** The newest format that the file needs, with the place that needs it; `undefined` where format 1 will do. */
function needed(file: Parsed): { readonly format: Format; readonly place: string } | undefined {
  for (const news of NEWS) {
    const place = placeOf(file, news);
    if (place !== undefined) return { format: news.format, place };
  }
  return undefined;
}

/** The least format that can say what a file says. */
export const leastFormat = (file: Parsed): Format => needed(file)?.format ?? 1;

/** A file of a format that cannot say what stands in it, which a program of that format would refuse. */
export function formatFaults(file: unknown): DocumentFault[] {
  if (!isRecord(file)) return [];
  const { format } = file;
  const needs = needed(file);
  if (typeof format !== 'number' || needs === undefined || format >= needs.format) return [];
  return [fault('format.older', 'format', format, needs.format, needs.place)];
}
