/** A setup that a page reads and now and then writes into. */
import { beforeEach, describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { setFigure } from '$lib/setup/edits/figures';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import type { Setups } from '$lib/ui/shelf/setups.svelte';
import { WorkedSetup } from '$lib/ui/shelf/workedSetup.svelte';
import { FailingDisk, newBrowser, setupsOfTab } from './tabs';

beforeEach(newBrowser);

async function tab(): Promise<{ worked: WorkedSetup; setups: Setups; moved: string[] }> {
  const setups = await setupsOfTab();
  const moved: string[] = [];
  return { worked: new WorkedSetup(setups, (id) => moved.push(id)), setups, moved };
}
/** The reference pitch in hertz, as a player writes it. */
const tuneTo = (worked: WorkedSetup, hz: string): Promise<string | undefined> =>
  worked.edit((setup) => setFigure(setup, 'referenceHz', hz), `reference ${hz} Hz`);

describe('a setup of the program', () => {
  it('is read as it is, and nothing can be taken back', async () => {
    const { worked } = await tab();
    await worked.open('c6');
    expect(worked.id).toBe('c6');
    expect(worked.setup).toBe(builtIn('c6'));
    expect([worked.isStored, worked.canUndo, worked.undoes]).toEqual([false, false, undefined]);
  });

  it('is copied onto this device with the first edit, which can be taken back', async () => {
    const { worked, setups, moved } = await tab();
    await worked.open('e9');
    expect(await tuneTo(worked, '442')).toBeUndefined();
    expect(moved).toEqual([worked.id]);
    expect(worked.id).toMatch(/^kept-/);
    expect(worked.setup).toMatchObject({
      name: 'E9, three pedals and five levers, mine',
      referenceHz: 442,
    });
    expect(worked.notice).toBe(
      'A copy is kept on this device as “E9, three pedals and five levers, mine”.',
    );
    expect([worked.isStored, worked.undoes]).toEqual([true, 'reference 442 Hz']);
    expect(builtIn('e9').referenceHz).toBe(440);
    worked.undo();
    expect(worked.notice).toBe('Undone: reference 442 Hz.');
    expect(worked.setup.referenceHz).toBe(440);
    expect(setups.stored).toHaveLength(1);
  });

  it('is copied once for edits in quick succession, and the copy has them all', async () => {
    const { worked, setups, moved } = await tab();
    await worked.open('e9');
    const both = [
      tuneTo(worked, '442'),
      worked.edit((setup) => setFigure(setup, 'frets', '20'), '20 frets'),
    ];
    expect(await Promise.all(both)).toEqual([undefined, undefined]);
    expect(worked.setup).toMatchObject({ referenceHz: 442, frets: 20 });
    expect(moved).toEqual([worked.id]);
    expect(setups.stored).toHaveLength(1);
    worked.undo();
    worked.undo();
    expect(worked.setup).toMatchObject({ referenceHz: 440, frets: builtIn('e9').frets });
    expect(worked.canUndo).toBe(false);
  });

  it('is copied with the edit, though another setup is opened before the copy is there', async () => {
    const { worked, setups, moved } = await tab();
    await worked.open('e9');
    const edited = tuneTo(worked, '442');
    // Back leads to the copy, and what comes later changes the address no more
    const told = [worked.id];
    expect(moved).toEqual(told);
    await Promise.all([worked.open('c6'), edited]);
    expect([worked.id, worked.isStored]).toEqual(['c6', false]);
    expect(worked.setup).toBe(builtIn('c6'));
    expect(moved).toEqual(told);
    const [copy] = setups.stored;
    expect(copy?.id).toBe(told[0]);
    expect(copy && setups.get(copy.id)?.referenceHz).toBe(442);
    // the next edit is one of C6
    await tuneTo(worked, '441');
    expect(setups.stored).toHaveLength(2);
    expect(worked.setup.name).toMatch(/^C6/);
  });

  it('whose name has no room for a word more is copied under its own', async () => {
    const { worked, setups } = await tab();
    const name = 'n'.repeat(200);
    await worked.open(await setups.addTemporary({ ...builtIn('c6'), name }));
    await tuneTo(worked, '441');
    expect(worked.problem).toBeUndefined();
    expect(worked.setup).toMatchObject({ name, referenceHz: 441 });
  });

  it('is not copied for an edit that cannot be, which is told', async () => {
    const { worked, setups, moved } = await tab();
    await worked.open('e9');
    expect(await tuneTo(worked, '9999')).toContain(
      'found 9999; allowed is a number from 300 to 600',
    );
    expect(worked.id).toBe('e9');
    expect(moved).toEqual([]);
    expect(setups.stored).toEqual([]);
  });
});

describe('a kept setup', () => {
  it('is edited where it is, and is there in the next visit', async () => {
    const { worked, setups, moved } = await tab();
    const { id } = await setups.create(builtIn('c6'), 'made');
    await worked.open(id);
    expect(worked.isStored).toBe(true);
    await tuneTo(worked, '441');
    await tuneTo(worked, '442');
    expect(worked.notice).toBe('reference 442 Hz.');
    expect(worked.undoes).toBe('reference 442 Hz');
    expect(moved).toEqual([]);
    expect(setups.stored).toHaveLength(1);
    const kept = await setups.open(id);
    if (!kept.ok) throw new Error(kept.error);
    await kept.value.settled();

    const later = await tab();
    await later.worked.open(id);
    expect(later.worked.setup.referenceHz).toBe(442);
    later.worked.undo();
    later.worked.undo();
    expect(later.worked.setup.referenceHz).toBe(440);
    expect(later.worked.canUndo).toBe(false);
  });

  it('that the device does not keep says why', async () => {
    const disk = new FailingDisk();
    const setups = await setupsOfTab(new Store(disk, new TabMessages()));
    const { id } = await setups.create(builtIn('c6'), 'made');
    const worked = new WorkedSetup(setups, () => undefined);
    await worked.open(id);
    expect(worked.trouble).toBeUndefined();
    disk.failure = 'full';
    await tuneTo(worked, '441');
    const kept = await setups.open(id);
    if (!kept.ok) throw new Error(kept.error);
    await kept.value.settled();
    expect(worked.trouble).toContain('full');
    expect(worked.setup.referenceHz).toBe(441);
  });
});

describe('an id', () => {
  it('that leads to nothing is told, and E9 is read in its stead', async () => {
    const { worked, setups } = await tab();
    const { id } = await setups.create(builtIn('c6'), 'made');
    await worked.open(id);
    await worked.open('kept-nowhere');
    expect(worked.problem).toBe(setups.unknown('kept-nowhere'));
    expect([worked.id, worked.isStored]).toEqual(['e9', false]);
    expect(worked.setup).toBe(builtIn('e9'));
    await worked.open('double');
    expect(worked.problem).toBeUndefined();
    expect(worked.setup).toBe(builtIn('double'));
  });

  it('of a setup that is only looked at is read, and copied with the first edit', async () => {
    const { worked, setups, moved } = await tab();
    const lent = await setups.addTemporary({ ...builtIn('c6'), name: 'Lent' });
    await worked.open(lent);
    expect([worked.setup.name, worked.isStored]).toEqual(['Lent', false]);
    await tuneTo(worked, '441');
    expect(worked.setup).toMatchObject({ name: 'Lent, mine', referenceHz: 441 });
    expect(moved).toEqual([worked.id]);
    expect(setups.get(lent)?.referenceHz).toBe(440);
  });
});

describe('several that are opened at once', () => {
  it('the one asked for last is read, however late the others are', async () => {
    const { worked, setups } = await tab();
    const { id } = await setups.create(builtIn('c6'), 'made');
    await Promise.all([worked.open(id), worked.open('double')]);
    expect([worked.id, worked.isStored]).toEqual(['double', false]);
    await Promise.all([worked.open(id), worked.open('kept-nowhere')]);
    expect(worked.problem).toBe(setups.unknown('kept-nowhere'));
    await Promise.all([worked.open('kept-nowhere'), worked.open(id)]);
    expect([worked.id, worked.problem]).toEqual([id, undefined]);
  });
});
