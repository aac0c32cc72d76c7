/** Passages against every way of playing the same notes, laid out one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combinations } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { noWishes } from '$lib/arrange/wishes';
import { passages, type Passage } from '$lib/scales/passages';
import { readScale, type Scale } from '$lib/theory/scales';
import { runs } from '../battery';
import { setupOf, smallSetup } from './generators';
import { codeOf } from './plainHolds';
import { plainOpen } from './plainSearch';
import { candidates, classesOf, everyWay, textOf, thousandths } from './plainTune';

const scaleOf = (text: string): Scale => {
  const read = readScale(text);
  if (!read.ok) throw new Error(text);
  return read.value;
};

const pitchesOf = (setup: Setup, { neck, fret, engaged, strings }: Hold): number[] =>
  strings.map((string) => plainOpen(setup, neck, string, engaged) + fret);

/** Semitones above a root of the triads that are looked for: major, minor, diminished. */
const TRIADS = [
  [0, 4, 7],
  [0, 3, 7],
  [0, 3, 6],
];

/** The sets of the triads that lie in a scale, told plainly. */
const triadsOf = ({ tones }: Scale): string[] => {
  const notes = tones.map(({ chroma }) => chroma);
  return notes.flatMap((root) =>
    TRIADS.map((above) => above.map((each) => (root + each) % 12))
      .filter((triad) => triad.every((each) => notes.includes(each)))
      .map(classesOf),
  );
};

/** All that a moment between may be. */
function between(
  setup: Setup,
  { kind }: Passage,
  top: number,
  scale: Scale,
  ends: string[],
  neck: number,
) {
  const inScale = (pitch: number) => scale.tones.some(({ chroma }) => chroma === pitch % 12);
  const isTop = (pitches: readonly number[]) => Math.max(...pitches) === top;
  const here = <T extends { hold: { neck: number } }>(all: T[]) =>
    all.filter(({ hold }) => hold.neck === neck);
  if (kind === 'line') return here(candidates(setup, new Set([classesOf([top])]), [1, 1], isTop));
  if (kind === 'chords') {
    const sets = triadsOf(scale).filter((each) => !ends.includes(each));
    return here(candidates(setup, new Set(sets), [3, 3], isTop));
  }
  const below = (kind === 'thirds' ? [3, 4] : [8, 9]).map((each) => top - each).find(inScale);
  const pair = [below ?? NaN, top];
  return here(
    candidates(setup, new Set([classesOf(pair)]), [2, 2], (pitches) =>
      pair.every((each) => pitches.includes(each)),
    ),
  );
}

/** The ways to hold just this: fewest controls, none of them idle. */
const asIs = (setup: Setup, hold: Hold) =>
  candidates(
    setup,
    new Set([classesOf(pitchesOf(setup, hold))]),
    [hold.strings.length, hold.strings.length],
    (pitches) => pitches.join() === pitchesOf(setup, hold).join(),
  ).filter(
    ({ hold: found }) =>
      found.neck === hold.neck &&
      found.fret === hold.fret &&
      found.strings.join() === hold.strings.join() &&
      found.engaged.every((each) =>
        codeOf(hold.engaged)
          .split('+')
          .includes(codeOf([each])),
      ),
  );

describe('a passage from one position to another', () => {
  it('ends in the position that was asked for where another one sounds the same', () => {
    // the pedal makes G♯ and G of strings 2 and 3 G and G♯: with it or without, the three strings sound the same notes
    const setup = setupOf({
      format: 2,
      name: 'two strings change notes',
      frets: 3,
      necks: [{ name: 'neck', strings: ['C3', 'G#3', 'G3', 'G2', 'F3'].map((open) => ({ open })) }],
      controls: [
        {
          id: 'A',
          station: 'P1',
          pulls: [
            { neck: 1, string: 2, semitones: -1 },
            { neck: 1, string: 3, semitones: 1 },
          ],
        },
      ],
    });
    const from: Hold = { neck: 1, fret: 0, slant: 0, engaged: [], strings: [1, 2, 3] };
    const to: Hold = { ...from, engaged: [{ id: 'A', state: 'full' }] };
    const found = passages(setup, {
      from,
      to: { hold: to },
      scale: scaleOf('C major'),
      slants: false,
    });
    expect(found.length).toBeGreaterThan(0);
    for (const { way } of found) {
      expect(way.steps[0]?.hold.pitches).toEqual([48, 56, 55]);
      expect(way.steps.at(-1)?.hold.pitches).toEqual([48, 55, 56]);
    }
  });

  it('is the easiest way to play its notes, and its notes are of the scale', () => {
    const compared = new Map<string, number>();
    fc.assert(
      fc.property(
        smallSetup.filter(({ necks }) => necks.some(({ strings }) => strings.length >= 3)),
        fc.array(fc.nat(1000), { minLength: 4, maxLength: 4 }),
        fc.constantFrom('C major', 'Eb dorian', 'A minor pentatonic', 'F# major'),
        (setup, [one = 0, other = 0, fret = 0, goal = 0], name) => {
          const neck = setup.necks.findIndex(({ strings }) => strings.length >= 3) + 1;
          const all = [...combinations(setup)];
          const at = (choice: number, where: number): Hold => ({
            neck,
            fret: where % (setup.frets + 1),
            slant: 0,
            engaged: all[choice % all.length] ?? [],
            strings: [1, 2, 3],
          });
          const [from, to] = [at(one, fret), at(other, goal)];
          const scale = scaleOf(name);
          const found = passages(setup, { from, to: { hold: to }, scale, slants: false });
          const totals = found.map(({ way }) => way.total);
          expect(totals).toEqual([...totals].sort((a, b) => a - b));
          for (const passage of found) {
            const { way, line, kind } = passage;
            const held = way.steps.map(({ hold }) => hold.pitches.join());
            expect(held[0]).toBe(pitchesOf(setup, from).join());
            expect(held.at(-1)).toBe(pitchesOf(setup, to).join());
            for (const { midi } of line)
              expect(scale.tones.map(({ chroma }) => chroma)).toContain(midi % 12);
            const ends = [from, to].map((each) => classesOf(pitchesOf(setup, each)));
            const layers = [
              asIs(setup, from),
              ...line.map(({ midi }) => between(setup, passage, midi, scale, ends, neck)),
              asIs(setup, to),
            ];
            if (layers.reduce((product, { length }) => product * length, 1) > 2_000) continue;
            const onsets = way.steps.map(({ onset }) => onset);
            const [best] = everyWay(setup, layers, onsets, noWishes(false));
            expect(thousandths(way.total), kind).toBe(best?.cost);
            const text = way.steps
              .map((step) => ` ${textOf({ ...step.hold, engaged: step.way })}`)
              .join('');
            if (layers.every(({ length }) => length === 1)) expect(text).toBe(best?.text);
            compared.set(kind, (compared.get(kind) ?? 0) + 1);
          }
        },
      ),
      { numRuns: runs(30) },
    );
    for (const kind of ['line', 'thirds', 'sixths'])
      expect(compared.get(kind) ?? 0, kind).toBeGreaterThan(0);
  });
});
