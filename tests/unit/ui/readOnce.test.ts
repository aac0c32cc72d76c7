/** How often a document is read while it is written: once a letter, and its file never. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { arranging } from './answering';
import { newBrowser } from './tabs';

beforeEach(newBrowser);
afterEach(() => {
  vi.doUnmock('$lib/arrange/readText');
  vi.doUnmock('$lib/setup/readSetup');
  vi.resetModules();
});

it('a letter that is typed has the text read once, by the page, the list and the device together', async () => {
  vi.resetModules();
  const texts: string[] = [];
  vi.doMock('$lib/arrange/readText', async (original) => {
    const actual = await original<typeof import('$lib/arrange/readText')>();
    return {
      ...actual,
      readProgression: (text: string) => {
        texts.push(text);
        return actual.readProgression(text);
      },
    };
  });
  const { ProgressionKeeping, savedProgressions } = await import('$lib/ui/arrange/keeping.svelte');
  const { ProgressionState } = await import('$lib/ui/arrange/progression.svelte');
  const { progressionKind } = await import('$lib/storage/progressionKind');
  const { fromText, shownText } = await import('$lib/storage/piece');
  const fromFile = vi.spyOn(progressionKind, 'read');
  await savedProgressions().whenReady;
  const keeping = new ProgressionKeeping();
  const state = new ProgressionState(
    arranging(),
    { find: () => Promise.resolve(builtIn('e9')), unknown: (id) => id },
    (asked, entry) => keeping.put(asked, entry),
  );
  await state.open(fromText({ setup: 'e9', wishes: { locks: '1=fret:3' } }, 'title: Shed song\nG'));
  await keeping.keep(() => state.asked);
  await keeping.document?.settled();
  texts.length = 0;
  fromFile.mockClear();

  const letters = ['title: Shed song\nG |', 'title: Shed song\nG | C', 'title: Shed song\nG | C7'];
  for (const text of letters) {
    await state.write(text, 'same');
    // the page asks after every change whether another tab has made it
    expect(keeping.differsFrom(state.asked)).toBe(false);
    await keeping.document?.settled();
  }
  expect(texts).toEqual(letters);
  expect(fromFile).not.toHaveBeenCalled();

  // a wish says nothing of the text
  await state.wish('frets', '1-9');
  await keeping.document?.settled();
  expect(texts).toEqual(letters);
  expect(keeping.document?.value).toMatchObject({
    setup: 'e9',
    piece: { title: 'Shed song', measures: [{}, {}] },
    wishes: { locks: '1=fret:3', frets: '1-9' },
  });

  // opened again, as it is after another tab or Undo: nothing is read anew, its locks neither
  const locks = state.locks;
  const value = keeping.document?.value;
  if (value === undefined) throw new Error('it is not kept');
  await state.open(value);
  expect(texts).toEqual(letters);
  expect(state.asked).toBe(value);
  expect([...state.locks]).toEqual([...locks]);
  keeping.document?.undo();
  const before = keeping.document?.value;
  if (before === undefined) throw new Error('it is not kept');
  await state.open(before);
  // what Undo brings back comes from the device: its text is read once more, and once
  expect(fromFile).toHaveBeenCalledTimes(1);
  expect(texts).toEqual([...letters, shownText(before)]);
});

it('a letter that is typed into a cell has the setup validated once', async () => {
  vi.resetModules();
  let count = 0;
  let texts = 0;
  vi.doMock('$lib/setup/readSetup', async (original) => {
    const actual = await original<typeof import('$lib/setup/readSetup')>();
    return {
      ...actual,
      readSetup: (...given: Parameters<typeof actual.readSetup>) => {
        count += 1;
        return actual.readSetup(...given);
      },
      readSetupText: (...given: Parameters<typeof actual.readSetupText>) => {
        texts += 1;
        return actual.readSetupText(...given);
      },
    };
  });
  const { setupsOfTab: setupsHere } = await import('./tabs');
  const { Bench } = await import('$lib/ui/bench/bench.svelte');
  const { Consequences } = await import('$lib/ui/bench/consequences.svelte');
  const { Draft } = await import('$lib/ui/bench/draft.svelte');
  const { builtIn: e9 } = await import('$lib/setup/builtIns');
  const { FIRST_CONTROL, GAUGE } = await import('$lib/ui/bench/chartKeys');
  const setups = await setupsHere();
  const bench = new Bench(
    new Draft(e9('e9')),
    new Consequences(() => Promise.resolve({ ok: true, value: [] })),
  );
  const kept = setups.begin(e9('e9'), 'made');
  if (!kept.ok) throw new Error(kept.error);
  bench.take(kept.value);
  await kept.value.settled();
  let all = 0;
  for (const [column, letters] of [
    [FIRST_CONTROL, ['+', '+1', '+1/', '+1/+3']],
    [GAUGE, ['1', '12', '12p']],
  ] as const)
    for (const text of letters) {
      count = texts = 0;
      bench.typing({ row: 1, column }, text);
      await kept.value.settled();
      // the device and the list have it by now
      expect(count, text).toBeLessThanOrEqual(1);
      expect(texts, text).toBe(0);
      all += count;
    }
  // +1, +1/+3 and 12: the others say nothing yet
  expect(all).toBe(3);
  expect(setups.get(kept.value.id)?.controls[0]?.pulls[0]).toMatchObject({ semitones: 3, half: 1 });
});
