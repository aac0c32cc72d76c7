/** Long histories: how much of them is read, and what of them is left. */
import { IDBObjectStore } from 'fake-indexeddb';
import { beforeEach, describe, expect, it } from 'vitest';
import { DatabaseDisk } from '$lib/storage/database';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { battery } from '../../battery';
import { countOf, lay } from './records';
import { freshBrowser, makeIn, openIn, said, tab } from './tabs';

beforeEach(freshBrowser);

interface Made {
  readonly number: number;
  readonly after: number;
  readonly label: string;
  readonly at: number;
}

/** A history as earlier programs wrote it: every step has its number as its text. */
async function layHistory(steps: readonly Made[], head: number, named: readonly number[] = []) {
  await lay({
    entries: [{ id: 'a', kind: 'progression', name: 'a', revision: 9, head, made: 0, changed: 0 }],
    steps: steps.map((step) => ({
      document: 'a',
      name: 'a',
      text: `a ${step.number}`,
      ...step,
    })),
    versions: named.map((step, at) => ({
      document: 'a',
      number: at + 1,
      step,
      name: `at ${step}`,
      at: 0,
    })),
  });
}
const edits = (count: number): Made[] =>
  Array.from({ length: count }, (_, at) => ({
    number: at + 1,
    after: at,
    label: `edit ${at + 1}`,
    at: 10_000 * at,
  }));
/** So many words of so many letters each, typed without a pause. */
const letters = (words: number, each: number): Made[] => [
  { number: 1, after: 0, label: 'made', at: 0 },
  ...Array.from({ length: words * each }, (_, at) => ({
    number: at + 2,
    after: at < each ? 1 : Math.floor(at / each) * each + 1,
    label: `word ${Math.floor(at / each) + 1}`,
    at: 10_000 * Math.floor(at / each) + 100 * (at % each),
  })),
];

/** Counts the records that are read out of the database while something is done. */
async function read(doing: () => Promise<unknown>): Promise<number> {
  let count = 0;
  const store = IDBObjectStore.prototype;
  const were = {
    get: Reflect.get<typeof store, 'get'>(store, 'get'),
    getAll: Reflect.get<typeof store, 'getAll'>(store, 'getAll'),
    openCursor: Reflect.get<typeof store, 'openCursor'>(store, 'openCursor'),
  };
  const counted = <R extends IDBRequest>(request: R, of: (result: unknown) => number): R => {
    request.addEventListener('success', () => (count += of(request.result)));
    return request;
  };
  store.get = function (...given) {
    return counted(were.get.apply(this, given), () => 1);
  };
  store.getAll = function (...given) {
    return counted(were.getAll.apply(this, given), (all) => (all as unknown[]).length);
  };
  store.openCursor = function (...given) {
    return counted(were.openCursor.apply(this, given), () => 1);
  };
  try {
    await doing();
  } finally {
    Object.assign(store, were);
  }
  return count;
}

describe('a long history', () => {
  it('is opened by its newest steps, and the rest is read when it is asked for', async () => {
    await layHistory(edits(3000), 3000, [7, 1500]);
    let document = await openIn(tab(), 'a');
    const count = await read(async () => {
      document = await openIn(tab(), 'a');
    });
    expect(count).toBeGreaterThan(0);
    expect(count).toBeLessThan(400);
    expect(said(document)).toBe('a 3000');
    expect(document.hasMorePast).toBe(true);
    // versions are at hand
    expect(document.restore(7, 'it')).toEqual([]);
    expect(said(document)).toBe('a 7');
    document.undo();
    while (document.hasMorePast) await document.loadPast();
    expect(document.past.map(({ text }) => text)).toEqual(
      edits(3000)
        .reverse()
        .map(({ number }) => `a ${number}`),
    );
  });

  it('is undone all the way, a step at a time', async () => {
    await layHistory(edits(700), 700);
    const document = await openIn(tab(), 'a');
    for (let number = 699; number > 0; number--) {
      document.undo();
      await document.loadPast();
      expect(said(document)).toBe(`a ${number}`);
    }
    expect(document.state.undoes).toBeUndefined();
    document.redo();
    expect(said(document)).toBe('a 2');
  });

  it('whose present is far back is gone back and forth in from there', async () => {
    await layHistory(edits(2000), 600);
    const document = await openIn(tab(), 'a');
    expect(said(document)).toBe('a 600');
    document.redo();
    document.redo();
    expect(said(document)).toBe('a 602');
    for (let steps = 0; steps < 3; steps++) document.undo();
    expect(said(document)).toBe('a 599');
    await document.settled();
  });
});

describe('letters that are typed in one go', () => {
  it('are one step on the device', async () => {
    await makeIn(tab(), 'a', 'one');
    let clock = 1000;
    const document = await openIn(tab(), 'a', () => clock);
    const text = 'a tune for the shed';
    for (let at = 1; at <= text.length; at++) {
      clock += 100;
      document.edit([text.slice(0, at)], 'notes', true);
      if (at % 3 === 0) await document.settled();
    }
    await document.settled();
    expect(await countOf('steps')).toBe(2);
    const later = await openIn(tab(), 'a');
    expect(said(later)).toBe(text);
    later.undo();
    expect(said(later)).toBe('one');
  });

  it('of which one has a name are not written over', async () => {
    await makeIn(tab(), 'a', 'one');
    const document = await openIn(tab(), 'a', () => 1000);
    document.edit(['a'], 'notes', true);
    document.saveVersion('the first letter');
    document.edit(['ab'], 'notes', true);
    document.edit(['abc'], 'notes', true);
    await document.settled();
    const later = await openIn(tab(), 'a');
    later.restore(later.state.versions[0]?.step ?? 0, 'it');
    expect(said(later)).toBe('a');
    later.undo();
    expect(said(later)).toBe('abc');
  });

  it('as an earlier program left them go with the next edit, and nothing else does', async () => {
    // 40 words of 30 letters; the 600th letter has a name
    await layHistory(letters(40, 30), 1201, [600]);
    const before = await openIn(tab(), 'a');
    while (before.hasMorePast) await before.loadPast();
    const past = before.past.map(({ text }) => text);
    expect(past).toHaveLength(41);

    const document = await openIn(tab(), 'a');
    expect(await countOf('steps')).toBe(1201);
    document.edit(['a', 'more'], 'more');
    await document.settled();
    await expect.poll(() => countOf('steps'), { timeout: 30_000 }).toBe(1 + 40 + 1 + 1);
    const later = await openIn(tab(), 'a');
    while (later.hasMorePast) await later.loadPast();
    expect(later.past.map(({ text }) => text)).toEqual(['a more', ...past]);
    later.restore(600, 'it');
    expect(said(later)).toBe('a 600');
  });
});

class ReadOnlyDisk extends DatabaseDisk {
  override write(): Promise<never> {
    return Promise.reject(new DOMException('no room', 'QuotaExceededError'));
  }
}

battery(
  'cleaning takes nothing that Undo, Redo or a version leads to',
  {
    slice: 15,
    whole: 300,
  },
  async ({ count, random }) => {
    for (let round = 0; round < count; round++) {
      freshBrowser();
      await makeIn(tab(), 'a', 'one');
      // as an earlier program did it: every letter is a step, on what the word was typed on
      const steps: Made[] = [{ number: 1, after: 0, label: 'made', at: 0 }];
      let [head, label, at] = [1, '', 0];
      const named: number[] = [];
      for (let move = 0; move < 40; move++) {
        const chance = random();
        const now = steps[head - 1];
        if (now === undefined) throw new Error('no head');
        if (chance < 0.2 && now.after > 0) head = now.after;
        else if (chance < 0.3) named.push(head);
        else {
          const types = chance < 0.75 && now.label === label && head === steps.length;
          const joins = types && now.after > 0 && !named.includes(head);
          if (!types) label = `word ${Math.floor(random() * 3)}`;
          at += joins ? 100 : 5000;
          const after = joins ? now.after : head;
          head = steps.length + 1;
          steps.push({ number: head, after, label, at });
        }
      }
      await layHistory(steps, head, named);
      const walk = async (): Promise<string[]> => {
        // in a tab that cannot write, so that it stays as it is
        const store = new Store(new ReadOnlyDisk(), new TabMessages(`deaf ${Math.random()}`));
        const document = await openIn(store, 'a');
        while (document.hasMorePast) await document.loadPast();
        const texts = document.past.map(({ text }) => text);
        const redoes: string[] = [];
        // what is seen on the way forth
        const from = document.state.value;
        while (document.state.redoes !== undefined && redoes.length < 50) {
          document.redo();
          redoes.push(said(document));
        }
        for (const version of document.state.versions) {
          document.restore(version.step, 'it');
          texts.push(`${version.name}: ${said(document)}`);
        }
        document.edit(from, 'back');
        return [...texts, ...redoes];
      };
      const before = await walk();
      await tab().clean('a');
      expect(await walk()).toEqual(before);
    }
  },
);
