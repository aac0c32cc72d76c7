/** What leads on from a hold, against every combination, grip and chord tried one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordsOfKey, type KeyChord } from '$lib/theory/keyChords';
import { parseKey, type Key } from '$lib/theory/spelling';
import { combinations, type Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { movesOf } from '$lib/setup/sounding';
import { moveBetween } from '$lib/effort/move';
import { compile } from '$lib/engine/instrument';
import { effortOfVoicing } from '$lib/engine/rank';
import type { Hold } from '$lib/search/hold';
import { leadsOn } from '$lib/scales/leadsOn';
import { runs } from '../battery';
import { smallSetup } from './generators';

const changesBetween = (a: Choice, b: Choice): number => {
  const states = (choice: Choice) => new Map(choice.map(({ id, state }) => [id, state]));
  const [was, is] = [states(a), states(b)];
  return [...new Set([...was.keys(), ...is.keys()])].filter((id) => was.get(id) !== is.get(id))
    .length;
};

const grips = (strings: number): number[][] =>
  Array.from({ length: 2 ** strings }, (_, bits) =>
    Array.from({ length: strings }, (_, s) => s + 1).filter((s) => (bits >> (s - 1)) & 1),
  ).filter(({ length }) => length === 3 || length === 4);

const setText = (pitches: readonly number[]): string =>
  [...new Set(pitches.map((pitch) => pitch % 12))].sort((a, b) => a - b).join();

/** Do these pitches say the chord: all of its tones and no others, a seventh perhaps without its fifth? */
function says({ kind, chord }: KeyChord, pitches: readonly number[]): string[] | undefined {
  const without = kind === 'triad' ? [[]] : [[], ['5']];
  return without.find(
    (missing) =>
      setText(
        chord.tones.flatMap(({ degree, chroma }) => (missing.includes(degree) ? [] : [chroma])),
      ) === setText(pitches),
  );
}

/** By the chord's number in the key and the changes that reach it: the least of effort and move. */
function plainly(setup: Setup, hold: Hold, key: Key): Map<string, number[]> {
  const open = setup.necks[hold.neck - 1]?.strings.map((each) => each.open.midi) ?? [];
  const sounds = (engaged: Choice) =>
    movesOf(setup, hold.neck, engaged).map((move, s) => (open[s] ?? 0) + move + hold.fret);
  const before = sounds(hold.engaged);
  const pitches = hold.strings.map((string) => before[string - 1] ?? 0);
  const best = new Map<string, number[]>();
  const choices = [...combinations(setup)].map((engaged) => ({
    engaged,
    changes: changesBetween(hold.engaged, engaged),
    all: sounds(engaged),
  }));
  for (const { engaged, changes, all } of choices) {
    if (changes > 2) continue;
    // what fewer changes sound on every string is no other way
    if (choices.some((each) => each.changes < changes && each.all.join() === all.join())) continue;
    for (const strings of grips(open.length)) {
      const sound = strings.map((string) => all[string - 1] ?? 0);
      if (setText(sound) === setText(pitches)) continue;
      for (const of of chordsOfKey(key)) {
        const missing = says(of, sound);
        if (missing === undefined) continue;
        const at = { neck: hold.neck, fret: hold.fret, slant: 0, strings, pitches: sound };
        const voicing = {
          ...at,
          frets: strings.map(() => hold.fret),
          pitchClasses: 0,
          missing,
          ways: [engaged],
        };
        const price =
          effortOfVoicing(compile(setup), voicing, {}, of.chord).total +
          moveBetween(setup, { ...hold, pitches }, { ...at, engaged }).total;
        const known = best.get(of.numeral) ?? [Infinity, Infinity, Infinity];
        known[changes] = Math.min(known[changes] ?? Infinity, price);
        best.set(of.numeral, known);
      }
    }
  }
  return best;
}

describe('what leads on from a hold', () => {
  it('is every chord of the key within two controls, most easily by the fewest, and by more where that is easier', () => {
    let reached = 0;
    fc.assert(
      fc.property(
        smallSetup,
        fc.nat(),
        fc.nat(),
        fc.nat(),
        fc.constantFrom('C', 'Eb', 'F#m', 'Am'),
        (setup, which, at, fret, tonic) => {
          const neck = (at % setup.necks.length) + 1;
          const count = setup.necks[neck - 1]?.strings.length ?? 0;
          const choices = [...combinations(setup)];
          const hold: Hold = {
            neck,
            fret: fret % (setup.frets + 1),
            slant: 0,
            engaged: choices[which % choices.length] ?? [],
            strings: Array.from({ length: Math.min(3, count) }, (_, string) => string + 1),
          };
          const key = parseKey(tonic) as Key;
          const found = leadsOn(setup, hold, key);
          const wanted = plainly(setup, hold, key);
          const told = found.map(({ of, changes }) => `${of.numeral} ${changes}`);
          const easier = [...wanted].flatMap(([numeral, least]) =>
            least.flatMap((price, changes) =>
              price < Math.min(Infinity, ...least.slice(0, changes)) - 1e-9
                ? [`${numeral} ${changes}`]
                : [],
            ),
          );
          expect(told.sort()).toEqual(easier.sort());
          for (const { of, changes, effort, move } of found)
            expect(effort.total + move.total).toBeCloseTo(
              wanted.get(of.numeral)?.[changes] ?? NaN,
              6,
            );
          reached += found.length;
        },
      ),
      { numRuns: runs(40) },
    );
    // chance must not have made it empty
    expect(reached).toBeGreaterThan(10);
  });
});
