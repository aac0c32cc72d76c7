/** Progressions that are kept, as the page of a tab keeps them and follows other tabs. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { fromText, shownText, type StoredProgression } from '$lib/storage/piece';
import { ProgressionState } from '$lib/ui/arrange/progression.svelte';
import { arranging } from './answering';
import { newBrowser } from './tabs';

beforeEach(newBrowser);

/** A tab: the program loaded once more, with a shelf of its own. */
async function tab() {
  vi.resetModules();
  const { ProgressionKeeping, savedProgressions } = await import('$lib/ui/arrange/keeping.svelte');
  const all = savedProgressions();
  await all.whenReady;
  return { keeping: new ProgressionKeeping(), all };
}
type Keeping = Awaited<ReturnType<typeof tab>>['keeping'];
const PIECE = fromText({ setup: 'e9', wishes: {} }, 'title: Shed song\nG | C');
const written = (text: string): StoredProgression => fromText({ setup: 'e9', wishes: {} }, text);
const shown = (piece: StoredProgression | undefined): string | undefined =>
  piece && shownText(piece);
const settled = ({ document }: Keeping): Promise<void> | undefined => document?.settled();

describe('a piece that is kept', () => {
  it('is kept with every edit, undone in another visit, and listed by its title', async () => {
    const { keeping, all } = await tab();
    expect(await keeping.open(undefined)).toBeUndefined();
    const id = (await keeping.keep(() => PIECE)) ?? '';
    expect(id).toMatch(/^kept-/);
    expect(keeping.document?.value).toEqual(PIECE);
    expect(keeping.trouble).toBeUndefined();
    keeping.put(written('title: Shed song\nG | C | D7'), 'new');
    await settled(keeping);
    expect(keeping.document?.saved).toBe(true);
    await vi.waitFor(() => expect(shown(all.get(id))).toBe('title: Shed song\nG | C | D7'));
    expect(all.stored.map(({ name }) => name)).toEqual(['Shed song']);

    const later = await tab();
    expect(shown(await later.keeping.open(id))).toBe('title: Shed song\nG | C | D7');
    later.keeping.document?.undo();
    expect(later.keeping.document?.value).toEqual(PIECE);
    later.keeping.document?.redo();
    await settled(later.keeping);
    expect(later.all.stored.map(({ name }) => name)).toEqual(['Shed song']);
  });

  it('letters that are typed in one go are one step', async () => {
    const { keeping } = await tab();
    await keeping.keep(() => PIECE);
    keeping.put(written('G | C | D'), 'new');
    for (const text of ['G | C | D7', 'G | C | D7b', 'G | C | D7b9'])
      keeping.put(written(text), 'same');
    keeping.document?.undo();
    expect(shown(keeping.document?.value)).toBe(shownText(PIECE));
    expect(keeping.document?.canUndo).toBe(false);
  });

  it('that has become too long is told, and what was kept stays', async () => {
    const { keeping } = await tab();
    await keeping.keep(() => PIECE);
    keeping.put(written('G | '.repeat(60_000)), 'new');
    expect(keeping.trouble).toBe('This is too long to be kept on the device; save it as a file.');
    expect(keeping.document?.value).toEqual(PIECE);
    keeping.put(written('G'), 'new');
    expect(keeping.trouble).toBeUndefined();
    expect(shown(keeping.document?.value)).toBe('G');
  });

  it('that is not there is told, until another one is opened', async () => {
    const { keeping } = await tab();
    expect(await keeping.open('kept-nowhere')).toBeUndefined();
    expect(keeping.trouble).toContain('There is no progression “kept-nowhere”');
    expect(keeping.document).toBeUndefined();
    const id = (await keeping.keep(() => PIECE)) ?? '';
    expect(keeping.trouble).toBeUndefined();
    expect(await keeping.open(id)).toEqual(PIECE);
  });

  it('is kept once, with what was written before the device had taken it', async () => {
    const { keeping, all } = await tab();
    const asked = [keeping.keep(() => PIECE), keeping.keep(() => PIECE)];
    expect(keeping.takesEdits).toBe(true);
    keeping.put(written('G | C | D'), 'new');
    keeping.put(written('G | C | D7'), 'same');
    const [first, second] = await Promise.all(asked);
    expect(second).toBe(first);
    expect(all.stored).toHaveLength(1);
    expect(shown(keeping.document?.value)).toBe('G | C | D7');
    keeping.document?.undo();
    expect(keeping.document?.value).toEqual(PIECE);
  });

  it('of several that are opened, the one asked for last is worked on', async () => {
    const { keeping } = await tab();
    const first = (await keeping.keep(() => PIECE)) ?? '';
    await keeping.open(undefined);
    const second = (await keeping.keep(() => written('D7'))) ?? '';
    await Promise.all([keeping.open(first), keeping.open(second)]);
    expect(keeping.document?.id).toBe(second);
    await Promise.all([keeping.open(first), keeping.open(undefined)]);
    expect(keeping.document).toBeUndefined();
    await Promise.all([keeping.open('kept-nowhere'), keeping.open(first)]);
    expect([keeping.document?.id, keeping.trouble]).toEqual([first, undefined]);
  });

  it('stays kept when another one is opened before the device has taken it', async () => {
    const { keeping, all } = await tab();
    const first = (await keeping.keep(() => PIECE)) ?? '';
    await keeping.open(undefined);
    const kept = keeping.keep(() => written('D7'));
    await keeping.open(first);
    // an edit of the one that is opened now
    keeping.put(written('E7'), 'new');
    const second = (await kept) ?? '';
    expect(keeping.document?.id).toBe(first);
    await vi.waitFor(() => expect(shown(all.get(second))).toBe('D7'));
  });

  it('nothing is written where nothing is kept', async () => {
    const { keeping, all } = await tab();
    await keeping.open(undefined);
    keeping.put(PIECE, 'new');
    expect(keeping.differsFrom(PIECE)).toBe(false);
    expect(all.stored).toEqual([]);
  });
});

describe('two tabs', () => {
  it('a wish of the other one is seen here, and not written over by the next edit', async () => {
    const here = await tab();
    const id = (await here.keeping.keep(() => PIECE)) ?? '';
    const state = new ProgressionState(
      arranging(),
      { find: () => Promise.resolve(builtIn('e9')), unknown: (unknown) => unknown },
      (asked, entry) => here.keeping.put(asked, entry),
    );
    await state.open(PIECE);
    expect(here.keeping.differsFrom(state.asked)).toBe(false);

    const there = await tab();
    await there.keeping.open(id);
    there.keeping.put({ ...PIECE, wishes: { frets: '8-15' } }, 'new');
    await settled(there.keeping);
    await vi.waitFor(() => expect(here.keeping.differsFrom(state.asked)).toBe(true));
    // the page opens what is kept, as after Undo
    const { document } = here.keeping;
    if (document === undefined) throw new Error('nothing is kept');
    await state.open(document.value);
    expect(state.wishTexts).toEqual({ frets: '8-15' });
    expect(here.keeping.differsFrom(state.asked)).toBe(false);

    await state.write('title: Shed song\nG | C | G', 'new');
    await settled(here.keeping);
    await vi.waitFor(() =>
      expect(there.keeping.document?.value).toEqual({
        ...written('title: Shed song\nG | C | G'),
        wishes: { frets: '8-15' },
      }),
    );
    for (const { hold } of state.way?.steps ?? []) expect(hold.fret).toBeGreaterThanOrEqual(8);
    expect(state.way?.steps).toHaveLength(3);
  });
});
