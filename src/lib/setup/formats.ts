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
/** Keys that format 1 does not know, by the object that has them. */
const KEYS_OF_2 = {
  setup: ['fingerRadiusMm', 'splitStops'],
  control: ['forceN', 'springN', 'slackMm', 'usage'],
  pull: ['splitCents'],
} as const;

/** The first place that only format 2 can say; `undefined` where format 1 says all of it. */
function placeOf2(file: Parsed): string | undefined {
  const keyIn = (object: Parsed, keys: readonly string[]): string | undefined =>
    keys.find((key) => object[key] !== undefined);
  const ofSetup = keyIn(file, KEYS_OF_2.setup);
  if (ofSetup !== undefined) return ofSetup;
  for (const [control, index] of recordsIn(file['controls'])) {
    const key = STATIONS_OF_2.includes(control['station'])
      ? 'station'
      : keyIn(control, KEYS_OF_2.control);
    if (key !== undefined) return `controls[${index}].${key}`;
    for (const [pull, p] of recordsIn(control['pulls'])) {
      const ofPull = keyIn(pull, KEYS_OF_2.pull);
      if (ofPull !== undefined) return `controls[${index}].pulls[${p}].${ofPull}`;
    }
  }
  return undefined;
}

/** The least format that can say what a file says. */
export const leastFormat = (file: Parsed): Format => (placeOf2(file) === undefined ? 1 : 2);

/** A file of a format that cannot say what stands in it, which a program of that format would refuse. */
export function formatFaults(file: unknown): DocumentFault[] {
  if (!isRecord(file) || file['format'] !== 1) return [];
  const place = placeOf2(file);
  return place === undefined ? [] : [fault('format.older', 'format', 1, 2, place)];
}
