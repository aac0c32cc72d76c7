/** The address holds the state: what is asked, the limits, the setup, and what the table shows. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { addressText, readAddress } from '$lib/ui/explore/address';
import { AddressBar } from '$lib/ui/kit/addressBar';
import { exploring } from './exploring';

describe('an address that was written opens', () => {
  it('with chord, key, limits and what was held', async () => {
    const page = await exploring();
    await page.explore.change({ chord: 'Am7' });
    await page.explore.change({ key: 'F' });
    await page.explore.change({ frets: '0-9' });
    expect(page.address).toBe('chord=Am7&key=F&frets=0-9');
    page.explore.select({ position: 2, row: 0 });
    expect(page.address).toMatch(/^chord=Am7&key=F&frets=0-9&at=\d+.*&strings=/);
    expect(page.written.at(-1)?.entry).toBe('same');

    const again = await exploring(page.address);
    expect(again.explore.texts).toEqual({ chord: 'Am7', key: 'F', frets: '0-9' });
    expect(again.explore.list.selected).toEqual({ position: 2, row: 0 });
    expect(again.current).toBe(page.current);
    expect(again.explore.hold).toEqual(page.explore.hold);
    expect(addressText(again.explore.address)).toBe(page.address);
  });

  it('with a hold that is no row', async () => {
    const page = await exploring();
    page.explore.press('RKR');
    page.explore.press('RKR');
    page.explore.moveBar(9);
    expect(page.address).toBe('at=9&engaged=RKR:half&strings=3,4,5');

    const again = await exploring(page.address);
    expect(again.explore.hold).toMatchObject({
      fret: 9,
      engaged: [{ id: 'RKR', state: 'half' }],
      strings: [3, 4, 5],
    });
    expect(again.explore.stand.find(({ id }) => id === 'RKR')?.state).toBe('half');
    expect(again.explore.list.selected).toBeUndefined();
    expect(again.names.length).toBeGreaterThan(0);
  });

  it('as a bookmark of old', async () => {
    // A+LKL at fret 3 is C♯ + 3 (common practice): E major
    const page = await exploring('chord=E&frets=0-11&at=3&engaged=A,LKL&strings=4,5,6');
    expect(page.explore.hold).toMatchObject({ fret: 3, strings: [4, 5, 6] });
    const pressed = page.explore.stand.filter(({ state }) => state === 'full');
    expect(pressed.map(({ id }) => id)).toEqual(['A', 'LKL']);
    expect(page.heard.spoken).toBe('E major');
    expect(page.current).toMatch(/^Fret 3, A and LKL, strings 4 5 6/);
  });

  it('with the atlas, and how it is looked at', async () => {
    const text = 'chord=F&view=atlas&grips=held&cells=degrees';
    const page = await exploring(text);
    expect(page.explore.atlas).toEqual({ grips: 'held', cells: 'degrees' });
    expect(addressText(readAddress(new URLSearchParams(text)))).toBe(text);
  });
});

describe('other setups', () => {
  it('a double neck has the rows of both necks, or of one', async () => {
    const page = await exploring();
    await page.explore.changeSetup('double');
    expect(page.address).toBe('setup=double');
    const necks = page.allRows.map(({ neck }) => neck);
    expect(new Set(necks)).toEqual(new Set(['E9', 'C6']));
    expect(page.names[0]).toMatch(/^(E9|C6) neck, /);
    await page.explore.change({ chord: 'C6' });
    // Common practice: C6 with nothing pressed is C6, so on open strings and at fret 12.
    await page.explore.change({ neck: '2' });
    expect(page.address).toBe('setup=double&chord=C6&neck=2');
    expect(page.names[0]).toMatch(/^C6 neck, fret 0, nothing engaged/);
    expect(page.names.filter((name) => !name.startsWith('C6 neck, '))).toEqual([]);
    expect(page.explore.table.neckName).toBe('C6');
    expect(page.explore.table.strings[0]?.spokenOpen).toBe('G 4');

    // P5 makes D9 (common practice)
    page.explore.press('P5');
    for (const { number, picked } of page.explore.table.strings)
      if (picked !== number >= 6) page.explore.pick(number);
    expect(page.explore.hold.strings).toEqual([6, 7, 8, 9, 10]);
    expect(page.heard.spoken).toBe('D dominant ninth');
  });

  it('limits made for the old setup’s strings and controls go with it, the others stay', async () => {
    const page = await exploring(
      'chord=G7&key=G&match=complete&balance=feet%3D2&frets=0-5&grip=3,4,5&without=A&top=G',
    );
    await page.explore.changeSetup('c6');
    expect(page.explore.texts).toEqual({
      chord: 'G7',
      key: 'G',
      match: 'complete',
      balance: 'feet=2',
    });
    expect(page.written.at(-1)?.entry).toBe('new');
  });

  it('one without pedals has no stand, and the bar slants', async () => {
    const page = await exploring('setup=lap6-c6&chord=C6');
    const { table, stand, question } = page.explore;
    expect(table.strings).toHaveLength(6);
    expect(table.strings[5]?.spokenOpen).toBe('C 3');
    expect(stand).toEqual([]);
    expect(question.ok && question.value.slants).toBe(true);
    // open strings are C6
    expect(page.names[0]).toMatch(/^Fret 0, nothing engaged/);
  });
});

describe('the bar of the address', () => {
  beforeEach(() => {
    vi.useFakeTimers();
    vi.stubGlobal('requestAnimationFrame', (then: () => void) => setTimeout(then, 16));
    vi.stubGlobal('cancelAnimationFrame', clearTimeout);
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });

  function bar() {
    const gone: [text: string, replaces: boolean][] = [];
    const made = new AddressBar((text, replaces) => {
      gone.push([text, replaces]);
      return Promise.resolve();
    });
    return { bar: made, gone };
  }

  it('a finished question is an entry of its own, written when it has been drawn', () => {
    const { bar: address, gone } = bar();
    address.show('chord=F', 'new');
    expect(gone).toEqual([]);
    vi.runAllTimers();
    expect(gone).toEqual([['chord=F', false]]);
  });

  it('the first letter of a question opens an entry, the others go into it', () => {
    const { bar: address, gone } = bar();
    for (const chord of ['D', 'Dm', 'Dma', 'Dmaj9']) {
      address.show(`chord=${chord}`, address.entryWhileTyping());
      vi.advanceTimersByTime(60);
    }
    vi.runAllTimers();
    expect(gone).toEqual([
      ['chord=D', false],
      ['chord=Dmaj9', true],
    ]);
    address.settle();
    expect(address.entryWhileTyping()).toBe('new');
  });

  it('many small moves are written once they rest', () => {
    const { bar: address, gone } = bar();
    for (let fret = 1; fret <= 12; fret++) {
      address.show(`at=${fret}`, 'same');
      vi.advanceTimersByTime(100);
    }
    expect(gone).toEqual([]);
    vi.runAllTimers();
    expect(gone).toEqual([['at=12', true]]);
  });

  it('an entry that still waits is written before what follows it', () => {
    const { bar: address, gone } = bar();
    address.show('chord=F', 'new');
    address.show('chord=F&at=3', 'same');
    expect(gone).toEqual([['chord=F', false]]);
    vi.runAllTimers();
    expect(gone).toEqual([
      ['chord=F', false],
      ['chord=F&at=3', true],
    ]);
  });

  it('who goes back leaves the entry that is reached as it was', () => {
    const { bar: address, gone } = bar();
    address.show('chord=G7', 'new');
    vi.runAllTimers();
    address.show('chord=G7&at=5', 'same');
    address.leave();
    address.show('chord=G7', 'new');
    address.leave();
    vi.runAllTimers();
    expect(gone).toEqual([['chord=G7', false]]);
    expect(address.entryWhileTyping()).toBe('new');
  });
});
