/** Random small setups, as files: within the rules of the format, without sense for music. */
import fc from 'fast-check';
import { readSetup } from '$lib/setup/readSetup';
import { STATIONS, type Setup } from '$lib/setup/setup';

const NOTES = ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B', 'B#'];

const open = fc
  .tuple(fc.constantFrom(...NOTES), fc.integer({ min: 2, max: 4 }))
  .map(([note, octave]) => `${note}${octave}`);

const neck = fc
  .array(open, { minLength: 2, maxLength: 5 })
  .map((opens) => ({ name: 'neck', strings: opens.map((each) => ({ open: each })) }));

const pull = (necks: readonly { readonly strings: readonly unknown[] }[]) =>
  fc.integer({ min: 1, max: necks.length }).chain((number) =>
    fc.record({
      neck: fc.constant(number),
      string: fc.integer({ min: 1, max: necks[number - 1]?.strings.length ?? 1 }),
      semitones: fc.integer({ min: -3, max: 3 }).filter((n) => n !== 0),
      withHalf: fc.boolean(),
      splitCents: fc.option(fc.integer({ min: -40, max: 40 }), { nil: undefined }),
    }),
  );

const control = (necks: readonly { readonly strings: readonly unknown[] }[]) =>
  fc.uniqueArray(pull(necks), {
    maxLength: 3,
    selector: ({ neck, string }) => `${neck}/${string}`,
  });

const idAt = (station: string): string => `${station}'`;

/** Sets of some of these ids, each set once in whatever order. */
const sets = (ids: readonly string[], least: number): fc.Arbitrary<string[][]> =>
  ids.length < least
    ? fc.constant([])
    : fc.uniqueArray(
        fc.subarray([...ids], { minLength: least, maxLength: Math.min(ids.length, least + 2) }),
        {
          maxLength: 3,
          selector: (set) => [...set].sort().join(),
        },
      );

/** Exceptions from the reach that do not gainsay each other. */
const exceptions = (ids: readonly string[]) =>
  fc.record({ never: sets(ids, 1), also: sets(ids, 2) }).map(({ never, also }) => ({
    never,
    also: also.filter((set) => !never.some((off) => off.every((id) => set.includes(id)))),
  }));

/** The document of a setup file that the format accepts. */
export const setupDocument = fc
  .record({
    necks: fc.array(neck, { minLength: 1, maxLength: 2 }),
    frets: fc.integer({ min: 0, max: 5 }),
    stations: fc.uniqueArray(fc.constantFrom(...STATIONS.filter((s) => !/P[6-9]|P1\d/.test(s))), {
      maxLength: 5,
    }),
    pedalsAtOnce: fc.integer({ min: 1, max: 4 }),
    kneeUpWithSideways: fc.boolean(),
    excepting: fc.boolean(),
    splitStops: fc.constantFrom(true, undefined),
  })
  .chain(({ necks, frets, stations, pedalsAtOnce, kneeUpWithSideways, excepting, splitStops }) =>
    fc
      .tuple(
        excepting ? exceptions(stations.map(idAt)) : fc.constant({}),
        ...stations.map(() => control(necks)),
      )
      .map(([excepted, ...pulls]) => ({
        // the stations and the splits that came with format 2
        format:
          splitStops === true ||
          stations.some((station) => /2$|^WRIST$|^PALM1$/.test(station)) ||
          pulls
            .flat()
            .some(({ splitCents, semitones }) => splitCents !== undefined && semitones < 0)
            ? 2
            : 1,
        name: 'made at random',
        frets,
        ...(splitStops === undefined ? {} : { splitStops }),
        reach: { pedalsAtOnce, kneeUpWithSideways, ...excepted },
        necks,
        controls: stations.map((station, index) => ({
          id: idAt(station),
          station,
          pulls: (pulls[index] ?? []).map(({ withHalf, splitCents, ...rest }) => ({
            ...rest,
            ...(splitCents === undefined || rest.semitones > 0 ? {} : { splitCents }),
            ...(withHalf && Math.abs(rest.semitones) > 1
              ? { half: Math.sign(rest.semitones) }
              : {}),
          })),
        })),
      })),
  );

export const setupOf = (document: unknown): Setup => {
  const read = readSetup(document);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
};

export const smallSetup = setupDocument.map(setupOf);

/** As large as the format allows, with gauges, targets and notes: what fills pages. */
export const largeSetup = fc
  .record({
    name: fc.integer({ min: 1, max: 25 }),
    necks: fc.array(
      fc.record({
        name: fc.integer({ min: 1, max: 25 }),
        strings: fc.array(fc.record({ open, gauge: fc.integer({ min: 10, max: 70 }) }), {
          minLength: 1,
          maxLength: 14,
        }),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    stations: fc.subarray([...STATIONS], { maxLength: Math.min(20, STATIONS.length) }),
    told: fc.record({
      gauges: fc.boolean(),
      cents: fc.boolean(),
      notes: fc.integer({ max: 40, min: 0 }),
    }),
    density: fc.integer({ min: 1, max: 4 }),
  })
  .map(({ name, necks, stations, told, density }) =>
    setupOf({
      format: 2,
      name: 'a name '.repeat(name).trim(),
      ...(told.notes === 0 ? {} : { notes: 'notes that go on '.repeat(told.notes).trim() }),
      necks: necks.map((each) => ({
        name: 'neck so '.repeat(each.name).trim(),
        strings: each.strings.map((string) => ({
          open: string.open,
          ...(told.gauges
            ? { gauge: string.gauge / 1000, ...(string.gauge > 22 ? { wound: true } : {}) }
            : {}),
          ...(told.cents ? { cents: -4.5 } : {}),
        })),
      })),
      controls: stations.map((station, place) => ({
        id: station,
        station,
        pulls: necks.flatMap(({ strings }, neck) =>
          strings.flatMap((_, string) =>
            (place + string) % density === 0
              ? [
                  {
                    neck: neck + 1,
                    string: string + 1,
                    semitones: place % 2 === 0 ? 2 : -2,
                    half: place % 2 === 0 ? 1 : -1,
                  },
                ]
              : [],
          ),
        ),
      })),
    }),
  );
