/** A change against the plain search before and after it, voicing by voicing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultMatch } from '$lib/theory/allowedSets';
import { chordOf } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { noteName } from '$lib/theory/pitch';
import { idAt } from '$lib/setup/controlText';
import { withControl } from '$lib/setup/proposal';
import { STATIONS, type Control, type Setup } from '$lib/setup/setup';
import { changeBetween, countShapes, type Change } from '$lib/coverage/change';
import { shapeNow } from '$lib/coverage/changedShape';
import { type ChangeKind } from '$lib/coverage/changeKinds';
import { alongTheNeck, changedVoicing } from '$lib/coverage/changedVoicing';
import { yardstick } from '$lib/coverage/yardstick';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { plainSearch, plainSets } from './plainSearch';

const TYPES = ['', 'm', '7', 'm7b5', '9', 'sus4', 'aug'];
const SIZES: [number, number] = [3, 4];
const by = yardstick(TYPES.map((type) => ({ type, weight: 1 })));

const chordOn = (type: string) => chordOf(noteName('C', 0), typeWithSuffix(type)?.degrees ?? []);

/** The pitch classes of every root on which a type can be said, as the plain search writes them. */
const setsOnAnyRoot = (type: string): Set<string> => {
  const chord = chordOn(type);
  const sets = new Set<string>();
  for (const classes of plainSets(chord, defaultMatch(chord)))
    for (let root = 0; root < 12; root++)
      sets.add(
        classes
          .split(' ')
          .map((each) => (Number(each) + root) % 12)
          .sort((a, b) => a - b)
          .join(' '),
      );
  return sets;
};

/** Every voicing of any type on any neck, as text; and by type how many there are. */
function plainVoicings(setup: Setup): { all: Set<string>; byType: Map<string, Set<string>> } {
  const all = new Set<string>();
  const byType = new Map(TYPES.map((type) => [type, new Set<string>()]));
  setup.necks.forEach((_, index) => {
    const neck = index + 1;
    const asked = { neck, frets: [0, setup.frets] as [number, number], sizes: SIZES };
    plainSearch(
      setup,
      asked,
      TYPES.map((type) => ({ sets: setsOnAnyRoot(type) })),
    ).forEach((found, place) => {
      for (const { fret, strings, pitches } of found) {
        const text = `${neck} ${fret} ${strings.join('-')} ${pitches.join('-')}`;
        all.add(text);
        byType.get(TYPES[place] ?? '')?.add(text);
      }
    });
  });
  return { all, byType };
}

const minus = (a: ReadonlySet<string>, b: ReadonlySet<string>): string[] =>
  [...a].filter((each) => !b.has(each)).sort();

const voicingsOf = (change: Change, kind: ChangeKind): string[] =>
  alongTheNeck(change, kind, [0, change.before.frets], 0)
    .map(({ changed, fret }) => changedVoicing(change, changed, fret).voicing)
    .map((each) => `${each.neck} ${each.fret} ${each.strings.join('-')} ${each.pitches.join('-')}`)
    .sort();

/** Any control that a setup could have, at any station. */
export const controlFor = (setup: Setup): fc.Arbitrary<Control> =>
  fc
    .tuple(
      fc.constantFrom(...STATIONS.filter((station) => !/P[6-9]|P1\d/.test(station))),
      fc.uniqueArray(
        fc.integer({ min: 1, max: setup.necks.length }).chain((neck) =>
          fc.record({
            neck: fc.constant(neck),
            string: fc.integer({ min: 1, max: setup.necks[neck - 1]?.strings.length ?? 1 }),
            semitones: fc.integer({ min: -3, max: 3 }).filter((n) => n !== 0),
          }),
        ),
        { maxLength: 3, selector: ({ neck, string }) => `${neck}/${string}` },
      ),
    )
    .map(([station, pulls]) => ({ id: idAt(setup, station), station, pulls }));

describe('a change agrees with the plain search before and after it', () => {
  it('on random small setups with a random control more or in another’s place', () => {
    fc.assert(
      fc.property(
        smallSetup.chain((setup) => fc.tuple(fc.constant(setup), controlFor(setup))),
        ([before, control]) => {
          const after = withControl(before, control);
          const change = changeBetween(before, after, by, { sizes: SIZES, slants: false });
          const was = plainVoicings(before);
          const is = plainVoicings(after);
          const { shapes } = change;
          expect(voicingsOf(change, 'gained')).toEqual(minus(is.all, was.all));
          expect(voicingsOf(change, 'lost')).toEqual(minus(was.all, is.all));
          const kept = new Set([...is.all].filter((each) => was.all.has(each)));
          for (const kind of ['easier', 'harder'] as const)
            for (const each of voicingsOf(change, kind)) expect(kept).toContain(each);
          const frets = [0, before.frets] as const;
          const counted = countShapes(shapes.gained.map(shapeNow), by, frets);
          expect(counted.count).toBe(minus(is.all, was.all).length);
          for (const type of TYPES) {
            const many = minus(is.byType.get(type) ?? new Set(), was.byType.get(type) ?? new Set());
            const told = counted.byType.find((each) => each.type === type)?.count ?? 0;
            expect(told, type).toBe(many.length);
          }
        },
      ),
      { numRuns: runs(60, 1200) },
    );
  });

  it('turns round with the change: what one way gains the other loses', () => {
    fc.assert(
      fc.property(
        smallSetup.chain((setup) => fc.tuple(fc.constant(setup), controlFor(setup))),
        ([before, control]) => {
          const after = withControl(before, control);
          const options = { sizes: SIZES, slants: true };
          const there = changeBetween(before, after, by, options);
          const back = changeBetween(after, before, by, options);
          expect(back.shapes.lost.length).toBe(there.shapes.gained.length);
          expect(back.shapes.harder.length).toBe(there.shapes.easier.length);
          expect(back.gain + there.gain).toBe(0);
        },
      ),
      { numRuns: runs(60, 1200) },
    );
  });
});
