/** Records that are not as the program wrote them: what is whole is shown, and nothing else is hidden. */
import { beforeEach, describe, expect, it } from 'vitest';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import { battery } from '../../battery';
import { newBrowser, storeOfTab } from '../ui/tabs';
import { change, lay } from './records';
import { makeIn, openIn, said, tab, words } from './tabs';

beforeEach(newBrowser);

type Words = readonly string[];

async function shelf(): Promise<Documents<Words>> {
  const documents = new Documents(words);
  documents.start(storeOfTab());
  await documents.whenReady;
  return documents;
}
const names = (documents: Documents<Words>): string[] =>
  documents.stored.map(({ name }) => name).sort();

/** A document of four steps, with a version, and another one beside it. */
async function two(): Promise<void> {
  const store = tab();
  await makeIn(store, 'good', 'good');
  await makeIn(store, 'a', 'one');
  const document = await openIn(store, 'a');
  for (const word of ['two', 'three', 'four']) document.edit(['one', word], word);
  document.saveVersion('at four');
  await document.settled();
}

describe('a damaged record', () => {
  it.each([NaN, Infinity, -1, 0, 1.5, 99, 'x', null, {}])(
    'with the head %s hides nothing: the nearest step is shown',
    async (head) => {
      await two();
      await change('entries', (entry) => (entry.id === 'a' ? { ...entry, head } : entry));
      const documents = await shelf();
      expect(names(documents)).toEqual(['good', 'one']);
      expect(documents.problem).toBeUndefined();
      expect(documents.get('a')?.[0]).toBe('one');
      const opened = await documents.open('a');
      if (!opened.ok) throw new Error(opened.error);
      // and it can be worked on
      opened.value.edit(['one', 'more'], 'more');
      await opened.value.settled();
      expect(said(await openIn(tab(), 'a'))).toBe('one more');
    },
  );

  it.each([NaN, -3, 'x', undefined])('with the revision %s takes edits', async (revision) => {
    await two();
    await change('entries', (entry) => (entry.id === 'a' ? { ...entry, revision } : entry));
    const document = await openIn(tab(), 'a');
    document.edit(['one', 'more'], 'more');
    await document.settled();
    expect(document.state.saved).toBe(true);
    expect(said(await openIn(tab(), 'a'))).toBe('one more');
  });

  it('whose step follows itself, or a later one, has an end', async () => {
    await two();
    await change('steps', (step) =>
      step.document !== 'a' || step.number === 1
        ? step
        : { ...step, after: step.number === 2 ? 4 : step.number },
    );
    const document = await openIn(tab(), 'a');
    expect(document.past.map(({ text }) => text)).toEqual([
      'one four',
      'one three',
      'one two',
      'one',
    ]);
  });

  it('whose step is lost still has the steps before it', async () => {
    await two();
    await change('steps', (step) =>
      step.document === 'a' && [2, 3].includes(step.number as number) ? undefined : step,
    );
    const document = await openIn(tab(), 'a');
    expect(said(document)).toBe('one four');
    document.undo();
    await document.loadPast();
    expect(said(document)).toBe('one');
  });

  it('whose newest step is lost, or says nothing that can be read, shows the one before', async () => {
    await two();
    await change('steps', (step) =>
      step.document === 'a' && step.number === 4 ? { ...step, text: 'bad' } : step,
    );
    const documents = await shelf();
    expect(documents.get('a')).toEqual(['one', 'three']);
    const opened = await documents.open('a');
    expect(opened.ok && opened.value.notice).toContain('cannot be read any more');
    await change('steps', (step) => (step.number === 4 ? undefined : step));
    expect((await shelf()).get('a')).toEqual(['one', 'three']);
  });

  it.each([
    ['the newest', [4], /newest step .* not on the device any more/, 'one three'],
    ['the newest two', [3, 4], /newest step .* not on the device any more/, 'one two'],
    [
      'one that Undo leads to',
      [2],
      /step of the history .* not on the device any more/,
      'one four',
    ],
    ['the first', [1], /step of the history .* not on the device any more/, 'one four'],
  ] as const)('that lost a step says so when it is opened: %s', async (_, lost, tells, shown) => {
    await two();
    const whole = await openIn(tab(), 'a');
    expect(whole.state.notice).toBeUndefined();
    await change('steps', (step) =>
      step.document === 'a' && lost.some((number) => number === step.number) ? undefined : step,
    );
    const document = await openIn(tab(), 'a');
    expect(said(document)).toBe(shown);
    expect(document.state.notice).toMatch(tells);
    // the document beside it has lost nothing
    expect((await openIn(tab(), 'good')).state.notice).toBeUndefined();
    // and what is done from here on is all there
    document.edit([...document.state.value, 'more'], 'more');
    await document.settled();
    if (shown !== 'one four') expect((await openIn(tab(), 'a')).state.notice).toBeUndefined();
  });

  it('says so too where its line does not tell which step it was at', async () => {
    await two();
    await change('entries', (entry) => (entry.id === 'a' ? { ...entry, head: NaN } : entry));
    expect((await openIn(tab(), 'a')).state.notice).toMatch(/Where in its history/);
  });

  it('whose line in the list is lost is put back on it', async () => {
    await two();
    await change('entries', (entry) => (entry.id === 'a' ? undefined : entry));
    const documents = await shelf();
    expect(documents.get('a')).toEqual(['one', 'four']);
    expect(names(documents)).toEqual(['good', 'one']);
    const opened = await documents.open('a');
    expect(opened.ok && opened.value.past).toHaveLength(4);
  });

  it('of which nothing can be read is told, and can be saved as it is', async () => {
    await two();
    await change('steps', (step) => (step.document === 'a' ? { ...step, text: 7 } : step));
    const documents = await shelf();
    expect(names(documents)).toEqual(['good']);
    const [damaged] = documents.damaged;
    expect(damaged).toMatchObject({ id: 'a', name: 'one' });
    expect(JSON.parse(damaged?.text ?? '')).toMatchObject({
      entry: { id: 'a', name: 'one' },
      steps: [{ text: 7 }, { text: 7 }, { text: 7 }, { text: 7 }],
    });
    await documents.removeForGood('a');
    expect(documents.damaged).toEqual([]);
    expect((await shelf()).damaged).toEqual([]);
  });
});

/** What may stand where something was. */
const WRONG = [undefined, null, NaN, Infinity, -1, 0, 1, 2, 3, 1e9, '', 'bad', {}, []];

battery(
  'no damage to one document hides another, or keeps the list from being read',
  {
    slice: 25,
    whole: 1000,
  },
  async ({ count, random }) => {
    const one = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)] as T;
    for (let round = 0; round < count; round++) {
      newBrowser();
      await two();
      for (let wounds = 1 + Math.floor(random() * 4); wounds > 0; wounds--) {
        const name = one(['entries', 'steps', 'versions'] as const);
        const parts = {
          entries: ['kind', 'name', 'revision', 'head', 'made', 'changed', 'deleted', 'clean'],
          steps: ['after', 'label', 'at', 'name', 'text'],
          versions: ['step', 'name', 'at'],
        }[name];
        await change(name, (record) => {
          if ((record.id ?? record.document) !== 'a' || random() < 0.4) return record;
          return random() < 0.15 ? undefined : { ...record, [one(parts)]: one(WRONG) };
        });
      }
      const documents = await shelf();
      expect(documents.problem).toBeUndefined();
      expect(documents.get('good')).toEqual(['good']);
      const shown = [...documents.stored, ...documents.deleted];
      for (const { id, value } of shown) {
        const opened = await documents.open(id);
        if (!opened.ok) continue;
        expect(value.ok || documents.get(id) !== undefined).toBe(true);
        for (let steps = 0; opened.value.canUndo && steps < 9; steps++) {
          opened.value.undo();
          await opened.value.loadPast();
          await opened.value.settled();
        }
        // all the way back, or as far as there is something to show
        if (opened.value.canUndo) expect(opened.value.notice).toContain('damaged');
      }
    }
  },
);

it('a record that is no document at all hides nothing', async () => {
  await two();
  await lay({
    entries: [{ id: 'x' }, { id: 'y', kind: words.kind }, { id: 'z', kind: 7, head: 1 }],
  });
  const documents = await shelf();
  expect(names(documents)).toEqual(['good', 'one']);
  expect(documents.damaged.map(({ id }) => id).sort()).toEqual(['x', 'y', 'z']);
});
