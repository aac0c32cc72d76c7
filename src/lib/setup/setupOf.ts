/** From a checked file to a `Setup`: the last step of the reader, and the only one for what comes with the program. */
import { parsePitch } from '$lib/theory/pitch';
import { DEFAULTS } from './bounds';
import type { Control, Drop, Neck, Pull, Setup, SetupString } from './setup';
import type { SetupFile } from './setupFile';

/** The setups that were made here, by the object: a copy with something changed is none of them, as it would be by a mark in it. */
const READ = new WeakSet<Setup>();

/** A list under its key; an empty list says no more than none. */
const listed = <K extends string, T>(key: K, list: readonly T[] | undefined) =>
  list === undefined || list.length === 0 ? {} : ({ [key]: list } as Record<K, readonly T[]>);

/** A checked file in the program's own terms: what was left out has its default. */
export function setupOf(file: SetupFile): Setup {
  const necks = file.necks.map((neck): Neck => ({
    ...neck,
    strings: neck.strings.map((string): SetupString => {
      const open = parsePitch(string.open);
      if (open === undefined) throw new Error(`checked pitch ${string.open} cannot be read`);
      return { ...string, open };
    }),
  }));
  const controls = file.controls.map(({ pulls, drops, ...control }): Control => ({
    ...control,
    pulls: pulls.map((pull): Pull => ({ ...pull, neck: pull.neck ?? 1 })),
    ...(drops === undefined
      ? {}
      : { drops: drops.map((drop): Drop => ({ ...drop, neck: drop.neck ?? 1 })) }),
  }));
  const setup = {
    name: file.name,
    ...(file.notes === undefined ? {} : { notes: file.notes }),
    frets: file.frets ?? DEFAULTS.frets,
    scaleLengthMm: file.scaleLengthMm ?? DEFAULTS.scaleLengthMm,
    ...(file.deadLengthMm === undefined ? {} : { deadLengthMm: file.deadLengthMm }),
    ...(file.fingerRadiusMm === undefined ? {} : { fingerRadiusMm: file.fingerRadiusMm }),
    referenceHz: file.referenceHz ?? DEFAULTS.referenceHz,
    // without is the usual one, and says no more than nothing
    ...(file.splitStops === true ? { splitStops: true } : {}),
    ...(file.changer === undefined || Object.keys(file.changer).length === 0
      ? {}
      : { changer: file.changer }),
    reach: {
      pedalsAtOnce: file.reach?.pedalsAtOnce ?? DEFAULTS.reach.pedalsAtOnce,
      kneeUpWithSideways: file.reach?.kneeUpWithSideways ?? DEFAULTS.reach.kneeUpWithSideways,
      ...listed('never', file.reach?.never),
      ...listed('also', file.reach?.also),
    },
    necks,
    controls,
  };
  READ.add(setup);
  return setup;
}

/** Whether a setup came out of the reader as it is, so that reading it again would find nothing. */
export const isReadSetup = (setup: Setup): boolean => READ.has(setup);
