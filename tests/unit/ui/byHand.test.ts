/**
 * One's own instrument by hand: lines at heads and in cells, what a setup begins with, and how many presses a
 * ten-string with three pedals and five levers takes. Its tuning and its pulls are common practice of the trade.
 */
import { describe, expect, it } from 'vitest';
import { ok } from '$lib/result';
import { setHead, setOpens } from '$lib/setup/edits/lines';
import { begun } from '$lib/setup/edits/start';
import { usualCounts, withUsualControls } from '$lib/setup/edits/usualControls';
import { controlText } from '$lib/setup/controlText';
import type { Setup } from '$lib/setup/setup';
import { withUsualGauges } from '$lib/strings/usualGauges';
import { pitchText } from '$lib/theory/pitch';
import { Bench } from '$lib/ui/bench/bench.svelte';
import { ChartEntry } from '$lib/ui/bench/chartEntry.svelte';
import { FIRST_CONTROL, GAUGE, OPEN, type Spot } from '$lib/ui/bench/chartKeys';
import { Consequences } from '$lib/ui/bench/consequences.svelte';
import { Draft } from '$lib/ui/bench/draft.svelte';

const made = (result: ReturnType<typeof begun>): Setup => {
  if (!result.ok) throw new Error(result.error);
  return result.value;
};
const controls = (setup: Setup): string => setup.controls.map(controlText).join(' ');
const opens = (setup: Setup): string =>
  (setup.necks[0]?.strings ?? []).map(({ open }) => pitchText(open)).join(' ');
const benchWith = (setup: Setup): Bench =>
  new Bench(new Draft(setup), new Consequences(() => Promise.resolve(ok([]))));
const E9 = 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2';
const empty = (pedals = 3, levers = 5): Setup =>
  made(withUsualControls(made(begun('F# D# G# E B G# F# E D B')), pedals, levers));

/** Keys on the copedent, as the page hands them on; every one is a press. */
class Keys {
  presses = 0;
  readonly bench: Bench;
  readonly #entry: ChartEntry;
  constructor(bench: Bench, at: Spot) {
    this.bench = bench;
    this.#entry = new ChartEntry(bench, {
      onshift: () => undefined,
      onremove: () => undefined,
      onleave: () => undefined,
      focus: () => undefined,
    });
    bench.goTo(at);
  }
  key(key: string): void {
    this.presses++;
    const event = { key, preventDefault: () => undefined } as unknown as KeyboardEvent;
    const isOpen = this.#entry.isAt(this.bench.here);
    // a letter goes into the open field by itself
    if (isOpen && [...key].length === 1) this.#entry.typed(this.#entry.text + key);
    else this.#entry.keydown(event);
  }
  type(text: string): void {
    for (const key of text) this.key(key);
  }
}

describe('by hand', () => {
  it('ten strings, three pedals and five levers with seventeen pulls take 77 presses from their notes, 62 from E9', () => {
    // the menu, New setup, the notes, Enter: three pedals, five levers and gauges are there
    const notes = 'F#D#G#EBG#F#EDB';
    const begin = 2 + notes.length + 1;
    // the menu, New setup, Begin with this tuning
    const beginAsE9 = 3;
    const counts = usualCounts(10);
    const setup = made(
      withUsualGauges(made(withUsualControls(made(begun(notes)), counts.pedals, counts.levers))),
    );
    const keys = new Keys(benchWith(setup), { row: 0, column: FIRST_CONTROL });
    const lines = [
      '5 10+2',
      '3 6+1',
      '4 5+2',
      '4 8+1',
      '5 10-1',
      '4 8-1',
      '1 2+1 6-2',
      '2-1/-2 9-1',
    ];
    for (const [index, line] of lines.entries()) {
      keys.type(line);
      keys.key(index < lines.length - 1 ? 'Tab' : 'Enter');
    }
    expect(opens(keys.bench.setup)).toBe(E9);
    expect(controls(keys.bench.setup)).toBe(
      'P1:5+2,10+2 P2:3+1,6+1 P3:4+2,5+2 LKL:4+1,8+1 LKV:5-1,10-1 LKR:4-1,8-1 RKL:1+1,2+1,6-2 RKR:2-1/-2,9-1',
    );
    expect(keys.bench.setup.name).toBe('E9, three pedals and five levers');
    expect(keys.bench.setup.controls.map(({ id }) => id).slice(0, 3)).toEqual(['A', 'B', 'C']);
    expect(keys.bench.setup.necks[0]?.strings.every(({ gauge }) => gauge !== undefined)).toBe(true);
    // cell by cell, with every control added by itself, it was 116
    expect([begin + keys.presses, beginAsE9 + keys.presses]).toEqual([77, 62]);
  });
});

describe('lines', () => {
  it.each([
    ['5 10+2', 'P1:5+2,10+2'],
    ['5+2, 10+2', 'P1:5+2,10+2'],
    ['5,10 +2; 2 -1/-2', 'P1:2-1/-2,5+2,10+2'],
    ['5 10: C#', 'P1:5+2,10+2'],
    ['5 C# 10 C#', 'P1:5+2,10+2'],
    ['2 − 1 / − 2', undefined],
    ['5', 'P1:'],
    ['11+2', undefined],
    ['5+2 and more', undefined],
  ])('%s at the head of A', (line, meant) => {
    const edited = setHead(empty(1, 0), 'A', 1, line);
    if (meant === undefined) {
      expect(edited.ok ? controls(edited.value) : edited.error).toMatch(
        /^(?:“|There is no string)/,
      );
    } else expect(edited.ok ? controls(edited.value) : edited.error).toBe(meant);
  });
  it('name and pulls in one, and the pulls that were there stay', () => {
    const first = made(setHead(empty(1, 0), 'A', 1, '5+2'));
    const next = made(setHead(first, 'A', 1, 'Q 10+2'));
    expect([controls(next), next.controls[0]?.id]).toEqual(['P1:5+2,10+2', 'Q']);
  });
  it('a string’s pulls from a cell on, and undone as one', () => {
    const bench = benchWith(empty(3, 0));
    const keys = new Keys(bench, { row: 4, column: FIRST_CONTROL });
    keys.type('+1 . -1/-2');
    keys.key('Enter');
    expect(controls(bench.setup)).toBe('P1:4+1 P2: P3:4-1/-2');
    expect(bench.here).toEqual({ row: 5, column: FIRST_CONTROL });
    bench.undo();
    expect(controls(bench.setup)).toBe('P1: P2: P3:');
  });
  it('more than there is room for is refused, and nothing of it stays', () => {
    const bench = benchWith(empty(1, 0));
    const spot = { row: 4, column: FIRST_CONTROL };
    expect(bench.enter(spot, '+1 +2', '')).toBe(false);
    expect(bench.refused.size).toBe(1);
    expect(controls(bench.setup)).toBe('P1:');
    expect(bench.enter({ row: 9, column: OPEN }, 'D B G', 'D3')).toBe(false);
    expect(bench.enter({ row: 0, column: FIRST_CONTROL }, '5 11+2', 'A')).toBe(false);
    expect([...bench.refused.values()].map(({ where, why }) => `${where}: ${why}`)).toContain(
      'pulls of A: There is no string 11.',
    );
  });
  it('open notes from a string on, with octaves as such tunings have them', () => {
    const setup = made(setOpens(empty(), 1, 1, 'F# D# G# E B G# F# E D B'));
    expect(opens(setup)).toBe(E9);
    const bench = benchWith(setup);
    expect(bench.enter({ row: 9, column: OPEN }, 'C#3 A2', 'D3')).toBe(true);
    expect(opens(bench.setup)).toBe('F#4 D#4 G#4 E4 B3 G#3 F#3 E3 C#3 A2');
  });
  it('gauges from a string on', () => {
    const bench = benchWith(empty());
    expect(bench.enter({ row: 1, column: GAUGE }, '.013 .015 .011', '')).toBe(true);
    expect(bench.setup.necks[0]?.strings.slice(0, 4).map(({ gauge }) => gauge)).toEqual([
      0.013,
      0.015,
      0.011,
      undefined,
    ]);
  });
});

describe('what a setup begins with', () => {
  it('no pedals where there are few strings', () => {
    expect(usualCounts(6)).toEqual({ pedals: 0, levers: 0 });
    expect(usualCounts(10)).toEqual({ pedals: 3, levers: 5 });
  });
  it('letters on the first three pedals, and levers sideways before those that go up', () => {
    expect(empty(5, 4).controls.map(({ id, station }) => `${id}@${station}`)).toEqual([
      'A@P1',
      'B@P2',
      'C@P3',
      'P4@P4',
      'P5@P5',
      'LKL@LKL',
      'LKR@LKR',
      'RKL@RKL',
      'RKR@RKR',
    ]);
  });
  it('the gauges that E9 is usually strung with, and none that is written is touched', () => {
    const strings = made(withUsualGauges(made(setOpens(empty(), 1, 1, E9)))).necks[0]?.strings;
    // common practice of the trade, from memory: .013 .015 .011 .014 .017 .020 .026w .030w .034w .036w
    expect(strings?.map(({ gauge }) => gauge)).toEqual([
      0.013, 0.015, 0.011, 0.014, 0.017, 0.02, 0.026, 0.03, 0.034, 0.036,
    ]);
    const own = made(withUsualGauges(made(begun('E4 C4'))));
    const bench = benchWith(own);
    bench.enter({ row: 1, column: GAUGE }, '.016', '.015');
    expect(made(withUsualGauges(bench.setup)).necks[0]?.strings[0]?.gauge).toBe(0.016);
  });
});
