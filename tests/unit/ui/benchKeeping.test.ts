/** Which setup the Bench works on, and where its edits are kept. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { ok } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { setPull } from '$lib/setup/edits/pulls';
import { emptySetup } from '$lib/setup/edits/start';
import { Bench } from '$lib/ui/bench/bench.svelte';
import { Consequences } from '$lib/ui/bench/consequences.svelte';
import { Draft } from '$lib/ui/bench/draft.svelte';
import { Keeping } from '$lib/ui/bench/keeping.svelte';
import type { Setups } from '$lib/ui/shelf/setups.svelte';
import { newBrowser, setupsOfTab } from './tabs';

beforeEach(newBrowser);

/** The Bench in a tab of its own. */
async function tabOfBench(): Promise<{
  bench: Bench;
  keeping: Keeping;
  setups: Setups;
  ids: string[];
}> {
  const setups = await setupsOfTab();
  const ids: string[] = [];
  const consequences = new Consequences(() => Promise.resolve(ok([])));
  const bench = new Bench(new Draft(builtIn('e9')), consequences);
  const keeping = new Keeping(setups, bench, (id) => ids.push(id));
  return { bench, keeping, setups, ids };
}
type Tab = Awaited<ReturnType<typeof tabOfBench>>;

/** One pull more, of B on a string. */
const addPull = (bench: Bench, string: number): void => {
  const made = bench.make(
    (setup) => setPull(setup, { id: 'B', neck: 1, string }, '+1'),
    `B on string ${string}`,
  );
  if (!made) throw new Error(bench.fault);
};
const pullsOfB = (bench: Bench): string =>
  bench.setup.controls
    .find(({ id }) => id === 'B')
    ?.pulls.map(({ string }) => string)
    .sort((a, b) => a - b)
    .join(' ') ?? '';
/** Waits until the device has taken the copy, and everything done to it since. */
async function kept({ keeping }: Tab): Promise<string> {
  await vi.waitFor(() => expect(keeping.document).toBeDefined());
  await keeping.document?.settled();
  return keeping.id;
}

describe('a setup of the program', () => {
  it('stays as it is: the first edit makes a copy that is kept, with the edits after it', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('e9');
    expect(tab.keeping.document).toBeUndefined();
    addPull(tab.bench, 4);
    expect(tab.bench.setup.name).toBe('E9, three pedals and five levers, copy');
    // the device has not taken it yet, and the address leads there all the same
    expect(tab.keeping.document?.saved).toBe(false);
    expect(tab.ids).toEqual([tab.keeping.id]);
    addPull(tab.bench, 8);
    const id = await kept(tab);
    expect(id).toMatch(/^kept-/);
    expect(tab.ids).toEqual([id]);
    expect(tab.keeping.document?.saved).toBe(true);
    expect(pullsOfB(tab.bench)).toBe('3 4 6 8');
    addPull(tab.bench, 9);
    await tab.keeping.document?.settled();
    // B raises strings 3 and 6 (common practice)
    expect(builtIn('e9').controls.find(({ id }) => id === 'B')?.pulls).toHaveLength(2);

    await tab.keeping.open('e9');
    expect(pullsOfB(tab.bench)).toBe('3 6');
    await tab.keeping.open(id);
    expect(pullsOfB(tab.bench)).toBe('3 4 6 8 9');
  });

  it('is copied once, however fast the edits come', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('e9');
    for (const string of [4, 8, 9, 10]) addPull(tab.bench, string);
    await kept(tab);
    expect(tab.setups.stored).toHaveLength(1);
  });

  it('that is only looked at makes no copy, and an edit that cannot be makes none', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('c6');
    tab.bench.make((setup) => setPull(setup, { id: 'P5', neck: 1, string: 1 }, '+9'), 'too far');
    await new Promise((done) => setTimeout(done, 20));
    expect(tab.setups.stored).toEqual([]);
    expect(tab.keeping.document).toBeUndefined();
  });
});

describe('a setup that is only lent', () => {
  it.each([190, 194, 195, 200])(
    'with a name of %i characters is copied with the edit',
    async (n) => {
      const tab = await tabOfBench();
      const lent = { ...builtIn('e9'), name: 'n'.repeat(n) };
      await tab.keeping.open(await tab.setups.addTemporary(lent));
      addPull(tab.bench, 4);
      const id = await kept(tab);
      const later = await tabOfBench();
      await later.keeping.open(id);
      expect(later.keeping.problem).toBeUndefined();
      expect(pullsOfB(later.bench)).toBe('3 4 6');
    },
  );
});

describe('a setup that is kept', () => {
  it('is there in the next visit with every step, to be undone and done again', async () => {
    const first = await tabOfBench();
    await first.keeping.open('e9');
    addPull(first.bench, 4);
    addPull(first.bench, 8);
    const id = await kept(first);

    const second = await tabOfBench();
    await second.keeping.open(id);
    expect(pullsOfB(second.bench)).toBe('3 4 6 8');
    second.bench.undo();
    expect(pullsOfB(second.bench)).toBe('3 4 6');
    await second.keeping.document?.settled();

    const third = await tabOfBench();
    await third.keeping.open(id);
    expect(pullsOfB(third.bench)).toBe('3 4 6');
    third.bench.redo();
    expect(pullsOfB(third.bench)).toBe('3 4 6 8');
    third.bench.undo();
    third.bench.undo();
    // the copy as it was made
    expect(pullsOfB(third.bench)).toBe('3 6');
    expect(third.bench.worked.canUndo).toBe(false);
  });

  it('is edited where it is, without a copy', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('e9');
    addPull(tab.bench, 4);
    const id = await kept(tab);
    await tab.keeping.open(id);
    addPull(tab.bench, 8);
    await tab.keeping.document?.settled();
    expect(tab.keeping.id).toBe(id);
    expect(tab.setups.stored).toHaveLength(1);
  });

  it('follows what another tab does to it', async () => {
    const here = await tabOfBench();
    await here.keeping.open('e9');
    addPull(here.bench, 4);
    const id = await kept(here);
    const there = await tabOfBench();
    await there.keeping.open(id);
    addPull(there.bench, 8);
    await vi.waitFor(() => expect(pullsOfB(here.bench)).toBe('3 4 6 8'));
    expect(here.keeping.document?.notice).toContain('B on string 8');
  });
});

describe('what is begun', () => {
  it('is kept at once, without controls', async () => {
    const tab = await tabOfBench();
    await tab.keeping.begin(emptySetup(builtIn('c6').necks), 'begun empty');
    expect(tab.keeping.id).toMatch(/^kept-/);
    expect(tab.ids).toEqual([tab.keeping.id]);
    expect(tab.bench.setup.controls).toEqual([]);
    expect(tab.setups.get(tab.keeping.id)?.name).toBe('C6, no controls yet');
  });
});

describe('an address', () => {
  it('that names nothing says so, and E9 is lent in its stead', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('kept-nowhere', 2);
    expect(tab.keeping.problem).toBe(
      'There is no setup “kept-nowhere” on this device. It may be kept in another browser, or deleted.',
    );
    expect([tab.keeping.id, tab.bench.chart.neck]).toEqual(['e9', 'E9']);
    addPull(tab.bench, 4);
    await kept(tab);
    expect(tab.keeping.problem).toBeUndefined();
    expect(tab.setups.stored).toHaveLength(1);
  });

  it('that is opened while another one is looked for is the one that counts', async () => {
    const tab = await tabOfBench();
    const [first, second] = [tab.keeping.open('kept-nowhere'), tab.keeping.open('double', 2)];
    await Promise.all([first, second]);
    expect([tab.keeping.id, tab.bench.chart.neck]).toEqual(['double', 'C6']);
    expect(tab.keeping.problem).toBeUndefined();
  });

  it('that is opened while a copy is being kept is the one that is worked on', async () => {
    const tab = await tabOfBench();
    await tab.keeping.open('e9');
    addPull(tab.bench, 4);
    // Back leads to the copy, and what comes later changes the address no more
    const told = [tab.keeping.id];
    expect(tab.ids).toEqual(told);
    await tab.keeping.open('c6');
    await vi.waitFor(() => expect(tab.setups.stored).toHaveLength(1));
    await new Promise((done) => setTimeout(done, 20));
    expect(tab.keeping.id).toBe('c6');
    expect(tab.bench.chart.neck).toBe('C6');
    expect(tab.ids).toEqual(told);
    // the copy has the edit all the same
    expect(tab.keeping.document).toBeUndefined();
    const [copy] = tab.setups.stored;
    await tab.keeping.open(copy?.id ?? '');
    expect(pullsOfB(tab.bench)).toBe('3 4 6');
  });
});
