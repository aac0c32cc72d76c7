/**
 * The Bench's state: what stands in the chart, what is typed into it, what cannot be, what is undone.
 * The setups' tunings and pulls are common practice of the trade.
 */
import { beforeEach, describe, expect, it } from 'vitest';
import { ok } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { combinationCount } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { addControl, removeControl } from '$lib/setup/edits/controls';
import { rename, setFigure, setNotes } from '$lib/setup/edits/figures';
import { addNeck, removeNeck, renameNeck, transposeNeck } from '$lib/setup/edits/necks';
import {
  allow,
  dropException,
  setKneeUpWithSideways,
  setPedalsAtOnce,
  switchOff,
} from '$lib/setup/edits/reach';
import { emptySetup } from '$lib/setup/edits/start';
import { reversePedals, setStation, stationBeside } from '$lib/setup/edits/stations';
import { addString, moveString, removeString } from '$lib/setup/edits/strings';
import { Bench } from '$lib/ui/bench/bench.svelte';
import { FIRST_CONTROL, GAUGE, NUMBER, OPEN, type Spot } from '$lib/ui/bench/chartKeys';
import { cellWords } from '$lib/ui/bench/chartWords';
import { Consequences } from '$lib/ui/bench/consequences.svelte';
import { Draft } from '$lib/ui/bench/draft.svelte';

/** Setups as they were compared, before and after. */
let compared: (readonly [before: Setup, after: Setup])[] = [];
beforeEach(() => (compared = []));

class Comparisons extends Consequences {
  override compare(before: Setup, after: Setup): Promise<void> {
    compared.push([before, after]);
    return Promise.resolve();
  }
}

const benchWith = (setup: Setup): Bench =>
  new Bench(new Draft(setup), new Comparisons(() => Promise.resolve(ok([]))));
const benchOn = (id: 'e9' | 'double' = 'e9'): Bench => benchWith(builtIn(id));

/** The spot of a control's pull on a string; string 0 is its head. */
const at = (bench: Bench, id: string, string: number): Spot => ({
  row: string,
  column: FIRST_CONTROL + bench.chart.controls.findIndex((control) => control.id === id),
});
/** What a screen reader says of that spot. */
function words(bench: Bench, id: string, string: number): string {
  const { row, column } = at(bench, id, string);
  return cellWords(bench.chart, row, column);
}
/** Writes a text into a spot, letter by letter, and finishes it. */
function write(bench: Bench, spot: Spot, text: string): boolean {
  const was = bench.textAt(spot) ?? '';
  for (let length = 1; length <= text.length; length++) bench.typing(spot, text.slice(0, length));
  return bench.enter(spot, text, was);
}
const heads = (bench: Bench): string[] => bench.chart.controls.map(({ spoken }) => spoken);

describe('the chart', () => {
  it('has strings down and controls across in their places', () => {
    const bench = benchOn();
    expect(bench.chart.neck).toBe('E9');
    expect(heads(bench)).toEqual([
      'Pedal A, P1',
      'Pedal B, P2',
      'Pedal C, P3',
      'Lever LKL, left knee left',
      'Lever LKV, left knee up',
      'Lever LKR, left knee right',
      'Lever RKL, right knee left',
      'Lever RKR, right knee right',
    ]);
    expect(words(bench, 'A', 5)).toBe('A on string 5: raised 2 semitones to C sharp 4');
    expect(words(bench, 'RKR', 2)).toBe(
      'RKR on string 2: lowered 2 semitones to C sharp 4, half-stop at 1 semitone, D 4',
    );
    expect(bench.chart.rows[1]?.cells.at(-1)).toMatchObject({
      interval: '−1 · −2',
      note: 'D · C♯',
    });
  });

  it('takes a whole lever', () => {
    const bench = benchOn();
    // the lever RKV that E9 leaves free: strings 1 and 7 up to G, string 2 with a half-stop
    expect(bench.make((setup) => addControl(setup, 'RKV'), 'Control added at RKV')).toBe(true);
    expect(heads(bench).slice(-3)).toEqual([
      'Lever RKL, right knee left',
      'Lever RKV, right knee up',
      'Lever RKR, right knee right',
    ]);
    expect(write(bench, at(bench, 'RKV', 1), 'G')).toBe(true);
    expect(words(bench, 'RKV', 1)).toBe('RKV on string 1: raised 1 semitone to G 4');
    write(bench, at(bench, 'RKV', 2), '-1/-2');
    expect(bench.chart.rows[1]?.cells[7]?.interval).toBe('−1 · −2');
    bench.nudge(at(bench, 'RKV', 4), 1);
    bench.nudge(at(bench, 'RKV', 4), 1);
    expect(words(bench, 'RKV', 4)).toBe('RKV on string 4: raised 2 semitones to F sharp 4');
    bench.nudge(at(bench, 'RKV', 4), -1);
    expect(words(bench, 'RKV', 4)).toBe('RKV on string 4: raised 1 semitone to F 4');
    bench.enter(at(bench, 'RKV', 4), '', '+1');
    expect(words(bench, 'RKV', 4)).toBe('RKV on string 4: no pull');
  });

  it('gives what stands in a cell to be changed, and takes it back when it is given up', () => {
    const bench = benchOn();
    const spot = at(bench, 'RKR', 2);
    expect(bench.textAt(spot)).toBe('-1/-2');
    bench.typing(spot, '-3');
    // what can be read counts while it is typed
    expect(words(bench, 'RKR', 2)).toBe('RKR on string 2: lowered 3 semitones to C 4');
    bench.leave(spot, '-1/-2');
    expect(bench.chart.rows[1]?.cells.at(-1)?.interval).toBe('−1 · −2');
    expect(bench.refused.size).toBe(0);
  });

  it('says why a cell cannot be, and lets the rest go on', () => {
    const bench = benchOn();
    const spot = at(bench, 'A', 5);
    expect(write(bench, spot, '+9')).toBe(false);
    expect([...bench.refused.values()]).toEqual([
      {
        spot,
        where: 'A on string 5',
        text: '+9',
        why: 'A pull goes at most 7 semitones; this is 9 semitones.',
      },
    ]);
    expect(words(bench, 'A', 5)).toBe('A on string 5: raised 2 semitones to C sharp 4');
    expect(write(bench, at(bench, 'B', 5), '+1')).toBe(true);
    expect(words(bench, 'B', 5)).toBe('B on string 5: raised 1 semitone to C 4');
    expect(bench.refused.size).toBe(1);
    // until something that can be is written
    expect(write(bench, spot, '+3')).toBe(true);
    expect(bench.refused.size).toBe(0);
    expect(words(bench, 'A', 5)).toBe('A on string 5: raised 3 semitones to D 4');
  });

  it('a text that is on its way and cannot be read yet leaves the cell as it was', () => {
    const bench = benchOn();
    const spot = at(bench, 'A', 5);
    for (const text of ['+', '-', 'H', ' ', '']) {
      bench.typing(spot, text);
      expect(words(bench, 'A', 5), text).toContain('raised 2 semitones');
    }
    expect(bench.worked.canUndo).toBe(false);
  });

  it('a text that is what it was is no step', () => {
    const bench = benchOn();
    expect(bench.enter(at(bench, 'A', 5), '+2', '+2')).toBe(true);
    expect(bench.worked.canUndo).toBe(false);
    expect(compared).toEqual([]);
  });

  it('takes open notes, gauges and names', () => {
    const bench = benchOn();
    write(bench, { row: 9, column: OPEN }, 'C#');
    expect(cellWords(bench.chart, 9, OPEN)).toBe('String 9, open: C sharp 3');
    write(bench, { row: 9, column: GAUGE }, '36w/.016');
    expect(bench.chart.rows[8]?.wire).toBe('.036w/.016');
    write(bench, at(bench, 'A', 0), 'Pa');
    expect(heads(bench)[0]).toBe('Pedal Pa, P1');
    expect(bench.chosen?.id).toBe('Pa');
    expect(write(bench, at(bench, 'B', 0), 'Pa')).toBe(false);
    const [refused] = bench.refused.values();
    expect(refused).toMatchObject({ where: 'the id of B', text: 'Pa' });
    expect(refused?.why).toMatch(/^There is another control Pa/);
    expect(heads(bench)[1]).toBe('Pedal B, P2');
  });

  it('asks before it takes a gauge that is far from all that suit, and takes it the second time', () => {
    const bench = benchOn();
    const gauge = { row: 3, column: GAUGE };
    const wire = (): string | undefined => bench.chart.rows[2]?.wire;
    // G♯4 raised to A4 at 24 inches: a plain wire of eleven thousandths is everyday practice
    expect(wire()).toBe('.011');
    bench.typing(gauge, '.0202');
    expect(wire()).toBe('.011');
    expect(bench.enter(gauge, '.0202', '.011')).toBe(false);
    expect(wire()).toBe('.011');
    expect(bench.refused.get('3:2')?.why).toMatch(
      /^\.0202 is far from what suits G♯4 here \(\.\d+ to \.\d+\)\. Enter it once more/,
    );
    expect(bench.enter(gauge, '.0202', '.011')).toBe(true);
    expect(wire()).toBe('.0202');
    expect(bench.refused.size).toBe(0);
    // a neighbour in the set is taken at once
    expect(bench.enter(gauge, '.012', '.0202')).toBe(true);
    expect(wire()).toBe('.012');
  });

  it('says where a spot is, and has nothing to type in a string’s number', () => {
    const bench = benchOn();
    expect(
      [
        at(bench, 'A', 0),
        { row: 3, column: OPEN },
        { row: 3, column: GAUGE },
        at(bench, 'A', 3),
      ].map((spot) => bench.whereOf(spot)),
    ).toEqual(['the id of A', 'string 3, open note', 'string 3, gauge', 'A on string 3']);
    expect(bench.textAt({ row: 3, column: NUMBER })).toBeUndefined();
    expect(bench.cellAt({ row: 3, column: OPEN })).toBeUndefined();
    expect(bench.cellAt(at(bench, 'A', 0))).toBeUndefined();
    expect(bench.cellAt(at(bench, 'A', 3))).toEqual({ id: 'A', neck: 1, string: 3 });
  });

  it('an open string goes up and down by semitones, a head and a gauge do not', () => {
    const bench = benchOn();
    // string 9 of E9 is D3
    bench.nudge({ row: 9, column: OPEN }, -1);
    expect(cellWords(bench.chart, 9, OPEN)).toBe('String 9, open: C sharp 3');
    const before = bench.setup;
    bench.nudge(at(bench, 'A', 0), 1);
    bench.nudge({ row: 9, column: GAUGE }, 1);
    expect(bench.setup).toBe(before);
  });

  it('keeps the player inside when it grows smaller', () => {
    const bench = benchOn();
    bench.goTo(at(bench, 'RKR', 10));
    expect(bench.chosen?.id).toBe('RKR');
    bench.make((setup) => removeControl(setup, 'RKR'), 'RKR removed');
    bench.make((setup) => removeString(setup, 1, 10), 'String 10 removed');
    expect(bench.here).toEqual({ row: 9, column: FIRST_CONTROL + 6 });
    expect(bench.chosen?.id).toBe('A');
  });
});

describe('strings, controls and necks', () => {
  it('a string comes, moves and goes with its pulls', () => {
    const bench = benchOn();
    bench.make((setup) => moveString(setup, 1, 3, 2), 'String 3 moved to 2');
    expect(words(bench, 'B', 2)).toBe('B on string 2: raised 1 semitone to A 4');
    bench.make((setup) => addString(setup, 1, 2), 'String 2 added');
    expect(bench.size.strings).toBe(11);
    expect(words(bench, 'B', 3)).toBe('B on string 3: raised 1 semitone to A 4');
    bench.make((setup) => removeString(setup, 1, 2), 'String 2 removed');
    expect(bench.size.strings).toBe(10);
    expect(words(bench, 'B', 2)).toBe('B on string 2: raised 1 semitone to A 4');
    expect(bench.notice).toBe('String 2 removed.');
  });

  it('the pedals are reversed, and back', () => {
    const bench = benchOn();
    bench.make(reversePedals, 'Pedals reversed');
    expect(heads(bench).slice(0, 3)).toEqual(['Pedal C, P1', 'Pedal B, P2', 'Pedal A, P3']);
    bench.make(reversePedals, 'Pedals reversed');
    expect(heads(bench)[0]).toBe('Pedal A, P1');
  });

  it('a control moves beside another, and to a place of its own', () => {
    const bench = benchOn();
    const beside = stationBeside('P1', 1);
    expect(beside).toBe('P2');
    bench.make((setup) => setStation(setup, 'A', 'P2'), 'A put at P2');
    expect(heads(bench).slice(0, 3)).toEqual(['Pedal B, P1', 'Pedal A, P2', 'Pedal C, P3']);
    bench.make((setup) => setStation(setup, 'A', 'P7'), 'A put at P7');
    expect(heads(bench).slice(0, 3)).toEqual(['Pedal B, P1', 'Pedal C, P3', 'Pedal A, P7']);
    bench.make((setup) => removeControl(setup, 'A'), 'A removed');
    expect(heads(bench)).not.toContain('Pedal A, P7');
    expect(bench.size.controls).toBe(7);
  });

  it('a neck comes, is transposed, named and goes', () => {
    const bench = benchOn();
    const [c6] = builtIn('c6').necks;
    if (c6 === undefined) throw new Error('no neck');
    bench.make((setup) => addNeck(setup, c6), 'C6, 10 strings added');
    bench.changeNeck(2);
    expect(bench.chart.neck).toBe('C6');
    bench.make((setup) => transposeNeck(setup, 2, 1), 'C6 up a semitone');
    // string 1 of C6 is G4
    expect(cellWords(bench.chart, 1, OPEN)).toBe('String 1, open: A flat 4');
    bench.make((setup) => renameNeck(setup, 2, 'Second'), 'renamed');
    expect(bench.chart.neck).toBe('Second');
    bench.make((setup) => removeNeck(setup, 2), 'Second removed');
    // what is not there any more cannot be looked at
    expect(bench.neckNumber).toBe(1);
    expect(bench.chart.neck).toBe('E9');
  });

  it('what cannot be says why and changes nothing', () => {
    const bench = benchOn();
    const before = bench.setup;
    expect(bench.make((setup) => setFigure(setup, 'frets', '99'), 'frets')).toBe(false);
    expect(bench.fault).toBe('Frets: found 99; allowed is a whole number from 0 to 36.');
    expect(bench.setup).toBe(before);
    expect(bench.worked.canUndo).toBe(false);
    expect(compared).toEqual([]);
    expect(bench.make((setup) => setFigure(setup, 'frets', '22'), 'frets to 22')).toBe(true);
    expect(bench.fault).toBe('');
    expect(bench.setup.frets).toBe(22);
  });

  it('it is named and noted, and the last of it undone', () => {
    const bench = benchOn();
    bench.make((setup) => rename(setup, '<b>Mine</b>'), 'renamed');
    bench.make((setup) => setNotes(setup, 'Rods changed in spring.'), 'notes');
    expect(bench.setup).toMatchObject({ name: '<b>Mine</b>', notes: 'Rods changed in spring.' });
    bench.undo();
    expect(bench.setup.notes).toBeUndefined();
    expect(bench.setup.name).toBe('<b>Mine</b>');
  });

  it('begins from a tuning without controls', () => {
    const bench = benchWith(emptySetup(builtIn('c6').necks, builtIn('c6')));
    expect(bench.chart.controls).toEqual([]);
    expect(bench.chosen).toBeUndefined();
    // G4 is the first string of C6; there is a spot to stand on without a control
    expect(bench.chart.rows[0]?.open).toBe('G4');
    expect(bench.here).toEqual({ row: 1, column: GAUGE });
    expect(combinationCount(bench.setup)).toBe(1);
    bench.make((setup) => addControl(setup, 'P1'), 'Control added at P1');
    expect(heads(bench)).toEqual(['Pedal P1']);
  });
});

describe('the picture', () => {
  it('draws a string’s end to the same pull, as one step until it is let go', () => {
    const bench = benchOn();
    bench.press('B');
    expect(bench.chosen?.id).toBe('B');
    for (const semitones of [1, 2, 3, 2, 1]) bench.pull(4, semitones);
    bench.released();
    expect(words(bench, 'B', 4)).toBe('B on string 4: raised 1 semitone to F 4');
    expect(bench.picture.strings[3]).toMatchObject({
      semitones: 1,
      spoken: 'raised 1 semitone to F 4',
    });
    bench.undo();
    expect(words(bench, 'B', 4)).toBe('B on string 4: no pull');
    expect(bench.worked.canUndo).toBe(false);
  });

  it('moves the pulls of the control that is chosen', () => {
    const bench = benchOn();
    bench.choose('LKV');
    // LKV lowers string 5 by one; one more to the left
    bench.pull(5, -2);
    expect(words(bench, 'LKV', 5)).toBe('LKV on string 5: lowered 2 semitones to A 3');
    bench.pull(5, 0);
    expect(words(bench, 'LKV', 5)).toBe('LKV on string 5: no pull');
  });

  it('tells what a combination sounds', () => {
    const bench = benchOn();
    expect(bench.picture.held).toBe('nothing engaged');
    bench.press('A');
    bench.press('B');
    // A and B on the open E9 are A major (common practice)
    expect(bench.picture.held).toBe('A and B');
    expect(bench.picture.grips.find(({ grip }) => grip === '3-4-5')).toEqual({
      grip: '3-4-5',
      // string 5, raised to C♯, is the lowest
      name: 'A/C♯',
      spoken: 'A major over C sharp',
    });
    expect(bench.picture.grips.some(({ spoken }) => spoken === 'A major over E')).toBe(true);
  });

  it('lets go what cannot be held with a control, and says why', () => {
    const bench = benchOn();
    bench.press('LKL');
    bench.press('LKR');
    expect(bench.engaged.map(({ id }) => id)).toEqual(['LKR']);
    expect(bench.notice).toMatch(/^LKL let go: /);
    bench.press('RKR');
    bench.press('RKR');
    expect(bench.stand.find(({ id }) => id === 'RKR')?.state).toBe('half');
    bench.press('RKR');
    expect(bench.engaged.map(({ id }) => id)).toEqual(['LKR']);
  });

  it('holds nothing that the setup has not got any more, or that cannot be held any more', () => {
    const bench = benchOn();
    bench.press('A');
    bench.press('LKV');
    bench.make((setup) => switchOff(setup, ['A', 'LKV']), 'A + LKV switched off');
    expect(bench.engaged).toEqual([]);
    bench.undo();
    expect(bench.engaged.map(({ id }) => id)).toEqual(['A', 'LKV']);
    bench.make((setup) => removeControl(setup, 'LKV'), 'LKV removed');
    expect(bench.engaged.map(({ id }) => id)).toEqual(['A']);
  });
});

describe('steps', () => {
  it('what is typed into one cell is one step; each cell is one of its own', () => {
    const bench = benchOn();
    write(bench, at(bench, 'LKV', 5), '-2');
    write(bench, at(bench, 'LKV', 1), '-1/-2');
    expect(bench.worked.undoes).toBe('LKV on string 1');
    bench.undo();
    expect(bench.notice).toBe('Undone: LKV on string 1.');
    expect(words(bench, 'LKV', 1)).toBe('LKV on string 1: no pull');
    bench.undo();
    expect(words(bench, 'LKV', 5)).toBe('LKV on string 5: lowered 1 semitone to B flat 3');
    expect(bench.worked.canUndo).toBe(false);
    bench.redo();
    expect(bench.notice).toBe('Redone: LKV on string 5.');
    expect(words(bench, 'LKV', 5)).toBe('LKV on string 5: lowered 2 semitones to A 3');
  });

  it('what was told of a cell, and of the last action, is over with the next step', () => {
    const bench = benchOn();
    write(bench, at(bench, 'A', 5), '+9');
    bench.make((setup) => setFigure(setup, 'frets', '99'), 'frets');
    expect([bench.refused.size, bench.fault === '']).toEqual([1, false]);
    bench.make((setup) => setFigure(setup, 'frets', '22'), 'frets to 22');
    expect([bench.refused.size, bench.fault]).toEqual([0, '']);
    write(bench, at(bench, 'A', 5), '+9');
    bench.undo();
    expect(bench.refused.size).toBe(0);
  });

  it('an edit is compared with the setup before it, a typed one with what was before its first letter', () => {
    const bench = benchOn();
    const e9 = bench.setup;
    const spot = at(bench, 'LKV', 5);
    bench.typing(spot, '-2');
    const between = bench.setup;
    bench.typing(spot, '-2/-3');
    expect(compared).toEqual([
      [e9, between],
      [e9, bench.setup],
    ]);
    expect(bench.lastEdit).toBe('LKV on string 5');
    bench.enter(spot, '-2/-3', '-1');
    const typed = bench.setup;
    bench.make((setup) => removeControl(setup, 'C'), 'C removed');
    expect(compared.at(-1)).toEqual([typed, bench.setup]);
    expect(bench.lastEdit).toBe('C removed');
    const without = bench.setup;
    bench.undo();
    expect(compared.at(-1)).toEqual([without, bench.setup]);
  });

  it('another setup begins anew: at its first cell, with nothing held, told or compared', () => {
    const bench = benchOn();
    bench.goTo(at(bench, 'RKR', 7));
    bench.press('B');
    write(bench, at(bench, 'A', 5), '+9');
    bench.take(new Draft(builtIn('double')), 2);
    expect(bench.chart.neck).toBe('C6');
    expect(bench.here).toEqual({ row: 1, column: FIRST_CONTROL });
    expect(bench.engaged).toEqual([]);
    expect([bench.refused.size, bench.notice, bench.lastEdit]).toEqual([0, '', undefined]);
    expect(compared.at(-1)).toEqual([builtIn('double'), builtIn('double')]);
  });
});

describe('a setup that is lent', () => {
  it('stays as it is: the first edit that can be made goes to a copy', () => {
    const bench = benchOn();
    const e9 = bench.setup;
    const copies: Draft[] = [];
    bench.onfirst = (setup) => {
      const copy = new Draft({ ...setup, name: 'mine' });
      copies.push(copy);
      return copy;
    };
    const lent = new Draft(e9);
    bench.take(lent, 1, { lent: true });
    // what cannot be makes no copy
    expect(bench.make((setup) => setFigure(setup, 'frets', '99'), 'frets')).toBe(false);
    expect(write(bench, at(bench, 'A', 5), '+9')).toBe(false);
    expect(copies).toEqual([]);
    expect(write(bench, at(bench, 'B', 4), '+1')).toBe(true);
    write(bench, at(bench, 'B', 8), '+1');
    expect(copies).toHaveLength(1);
    expect(lent.value).toBe(e9);
    expect(bench.worked).toBe(copies[0]);
    expect(bench.setup.name).toBe('mine');
    expect([words(bench, 'B', 4), words(bench, 'B', 8)]).toEqual([
      'B on string 4: raised 1 semitone to F 4',
      'B on string 8: raised 1 semitone to F 3',
    ]);
    bench.undo();
    bench.undo();
    expect(bench.worked.canUndo).toBe(false);
    expect(bench.setup.name).toBe('mine');
  });
});

describe('reach', () => {
  it('a combination is switched off, and one allowed against the rules', () => {
    const bench = benchOn();
    // 6 states of the foot · 4 of the left knee · 4 of the right, one lever with a half-stop: 6·4·4
    expect(combinationCount(bench.setup)).toBe(96);
    bench.make((setup) => switchOff(setup, ['A', 'LKV']), 'A + LKV switched off');
    // gone are A and A+B with LKV, with each of the four states of the right knee: 2 · 4
    expect(combinationCount(bench.setup)).toBe(88);
    expect(bench.setup.reach.never).toEqual([['A', 'LKV']]);
    bench.make((setup) => allow(setup, ['A', 'C']), 'A + C allowed');
    // new is A+C with every state of the knees but LKV: 3 · 4
    expect(combinationCount(bench.setup)).toBe(100);
    // and the stand holds them
    bench.press('A');
    bench.press('C');
    expect(bench.picture.held).toBe('A and C');
    bench.make((setup) => dropException(setup, 'also', 0), 'A + C dropped');
    expect(combinationCount(bench.setup)).toBe(88);
    expect(bench.engaged).toEqual([]);
  });

  it('pedals at once and the knee’s two ways are settings', () => {
    const bench = benchOn();
    bench.make((setup) => setPedalsAtOnce(setup, 3), '3 pedals at once');
    // A+B+C besides: 7 · 4 · 4
    expect(combinationCount(bench.setup)).toBe(112);
    bench.make((setup) => setKneeUpWithSideways(setup, true), 'knee up and sideways');
    // LKV with LKL or LKR besides: 7 · 6 · 4
    expect(combinationCount(bench.setup)).toBe(168);
  });
});
