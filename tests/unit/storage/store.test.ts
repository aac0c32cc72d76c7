import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { fault } from '$lib/documentFaults';
import { ok, refuse } from '$lib/result';
import { DatabaseDisk } from '$lib/storage/database';
import { UPGRADES, type Upgrade } from '$lib/storage/openDatabase';
import type { Disk } from '$lib/storage/disk';
import type { Kind } from '$lib/storage/kind';
import { DocumentSession } from '$lib/storage/documentSession';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { freshBrowser, makeIn, openIn, said, tab, words } from './tabs';

beforeEach(freshBrowser);

const namesIn = async (store: Store): Promise<string[]> =>
  (await store.list(words.kind)).listed.map(({ entry }) => entry.name).sort();

describe('documents on the device', () => {
  it('are listed with what they say now, by every tab', async () => {
    const store = tab();
    await makeIn(store, 'a', 'one');
    await makeIn(store, 'b', 'two words');
    const document = await openIn(store, 'b');
    document.edit(['three'], 'three');
    await document.settled();
    const { listed, problem } = await tab().list(words.kind);
    expect(problem).toBeUndefined();
    expect(listed.map(({ step }) => step.text).sort()).toEqual(['one', 'three']);
    expect((await tab().list('setup')).listed).toEqual([]);
  });

  it('that are deleted stay until they are deleted for good', async () => {
    const store = tab();
    await makeIn(store, 'a', 'one');
    await store.setDeleted('a', 1000);
    const [listed] = (await tab().list(words.kind)).listed;
    expect(listed?.entry.deleted).toBe(1000);
    expect(said(await openIn(tab(), 'a'))).toBe('one');
    await store.setDeleted('a', undefined);
    expect((await tab().list(words.kind)).listed[0]?.entry.deleted).toBeUndefined();
    await store.remove('a');
    expect((await tab().list(words.kind)).listed).toEqual([]);
    expect(await tab().load('a')).toEqual({ ok: true, value: undefined });
  });

  it('that are deleted are put back by an edit', async () => {
    const store = tab();
    await makeIn(store, 'a', 'one');
    const document = await openIn(store, 'a');
    await tab().setDeleted('a', 1000);
    document.edit(['two'], 'two');
    await document.settled();
    expect((await tab().list(words.kind)).listed[0]?.entry.deleted).toBeUndefined();
  });
});

/** A disk that fails in a way, as long as it is told to. */
class FailingDisk extends DatabaseDisk {
  failure: Error | undefined;
  override async write(...given: Parameters<Disk['write']>): ReturnType<Disk['write']> {
    if (this.failure !== undefined) throw this.failure;
    return super.write(...given);
  }
  override async heads(kind: string): ReturnType<Disk['heads']> {
    if (this.failure?.name === 'SecurityError') throw this.failure;
    return super.heads(kind);
  }
}
const FULL = new DOMException('no room', 'QuotaExceededError');
const BLOCKED = new DOMException('denied', 'SecurityError');

describe('a device that does not keep', () => {
  it.each([
    [FULL, 'the space that this browser gives is full'],
    [BLOCKED, 'does not let the page keep anything'],
    [new Error('a bug in the browser'), 'a bug in the browser'],
  ])(
    '(%s) is told, edits go on, and they are kept as soon as it does',
    async (failure, sentence) => {
      const disk = new FailingDisk();
      const store = new Store(disk, new TabMessages());
      await makeIn(store, 'a', 'one');
      const document = await openIn(store, 'a');
      disk.failure = failure;
      document.edit(['two'], 'two');
      document.edit(['three'], 'three');
      await document.settled();
      expect(document.state.problem).toContain(sentence);
      expect(document.state.problem).toContain('save it as a file');
      expect(document.state.saved).toBe(false);
      document.undo();
      expect(said(document)).toBe('two');
      // what was kept before is as it was
      disk.failure = undefined;
      expect(said(await openIn(tab({ deaf: true }), 'a'))).toBe('one');

      await document.tryAgain();
      expect(document.state.problem).toBeUndefined();
      expect(document.state.saved).toBe(true);
      const later = await openIn(tab(), 'a');
      expect(said(later)).toBe('two');
      later.redo();
      expect(said(later)).toBe('three');
    },
  );

  it('has new documents in the tab, says so until they are kept, and keeps them with every edit', async () => {
    const disk = new FailingDisk();
    const store = new Store(disk, new TabMessages());
    disk.failure = FULL;
    const begun = DocumentSession.begin(store, words, 'n', ['new'], 'made');
    if (!begun.ok) throw new Error('refused');
    const document = begun.value;
    await document.settled();
    expect(document.state.problem).toContain('full');
    document.edit(['newer'], 'newer');
    await document.settled();
    expect(document.state).toMatchObject({ saved: false, lasting: false });
    expect(document.state.problem).toContain('full');
    expect(await namesIn(tab())).toEqual([]);

    // there is room again, and nobody says so: the next edit takes all with it
    disk.failure = undefined;
    document.edit(['newest'], 'newest');
    await document.settled();
    expect(document.state).toMatchObject({ saved: true, lasting: true });
    expect([document.state.problem, document.state.notice]).toEqual([undefined, undefined]);
    expect(await namesIn(tab())).toEqual(['newest']);
    const later = await openIn(tab(), 'n');
    later.undo();
    later.undo();
    expect(said(later)).toBe('new');
  });

  it('is tried again by itself, later and later, until it does', async () => {
    const disk = new FailingDisk();
    const store = new Store(disk, new TabMessages());
    await makeIn(store, 'a', 'one');
    const document = await openIn(store, 'a');
    disk.failure = FULL;
    let tries = 0;
    const write = disk.write.bind(disk);
    disk.write = (...given) => {
      tries += 1;
      return write(...given);
    };
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      document.edit(['two'], 'two');
      await document.settled();
      for (const [seconds, sum] of [
        [1, 2],
        [2, 3],
        [4, 4],
      ] as const) {
        vi.advanceTimersByTime(1000 * seconds);
        await document.settled();
        await new Promise((done) => setImmediate(done));
        expect(tries).toBe(sum);
      }
      disk.failure = undefined;
      vi.advanceTimersByTime(60_000);
      await document.settled();
    } finally {
      vi.useRealTimers();
    }
    expect(document.state.problem).toBeUndefined();
    expect(said(await openIn(tab(), 'a'))).toBe('two');
  });

  it('of a change writes all or nothing', async () => {
    const disk = new DatabaseDisk();
    const store = new Store(disk, new TabMessages());
    await makeIn(store, 'a', 'one');
    const { entry, steps } = (await disk.load('a')) ?? {};
    if (entry === undefined || steps === undefined) throw new Error('it is not kept');
    const [first] = steps;
    if (first === undefined) throw new Error('it has no step');
    const change = {
      entry: { ...entry, name: 'half', head: 2 },
      // the second has a number that a database takes for none
      steps: [
        { ...first, number: 2, after: 1, text: 'half' },
        { ...first, number: NaN },
      ],
      versions: [],
      joined: [],
    };
    await expect(disk.write(entry.revision, change)).rejects.toThrow();
    const later = await openIn(tab(), 'a');
    expect([said(later), later.past.length, later.state.redoes]).toEqual(['one', 1, undefined]);
    expect(await namesIn(tab())).toEqual(['one']);
  });

  it('is asked at the first kept edit to keep it for good, and once', async () => {
    let asked = 0;
    const store = new Store(new DatabaseDisk(), new TabMessages(), () => {
      asked += 1;
      return Promise.resolve();
    });
    await store.list(words.kind);
    expect(asked).toBe(0);
    await makeIn(store, 'a', 'one');
    await makeIn(store, 'b', 'two');
    expect(asked).toBe(1);
  });
});

describe('what an older program has written', () => {
  /** A kind whose present format begins with “2:”, and which reads format 1 as well. */
  const reads: string[] = [];
  const second: Kind<string> = {
    kind: 'progression',
    read(text) {
      reads.push(text);
      if (text.startsWith('2:')) return ok(text.slice(2));
      if (text.startsWith('1:')) return ok(`${text.slice(2)} (from format 1)`);
      return refuse([fault('format.newer', 'format', Number(text.slice(0, 1)), 2)]);
    },
    write: (value) => `2:${value}`,
    nameOf: (value) => value,
    named: (_, name) => name,
  };
  const loadedFrom = async (store: Store) => {
    const loaded = await store.load('old');
    if (!loaded.ok || loaded.value === undefined) throw new Error('it is not kept');
    return loaded.value;
  };

  it('opens in the present format, and is not written back without an edit', async () => {
    const store = tab();
    await store.create('old', 'progression', { name: 'old', text: '1:old', label: 'made' });
    const opened = DocumentSession.of(store, second, await loadedFrom(store));
    if (!opened.ok) throw new Error('refused');
    expect(opened.value.state.value).toBe('old (from format 1)');
    await opened.value.settled();
    const untouched = await loadedFrom(tab());
    expect(untouched.entry.revision).toBe(1);
    expect(untouched.steps.map(({ text }) => text)).toEqual(['1:old']);

    opened.value.edit('new', 'new');
    await opened.value.settled();
    expect((await loadedFrom(tab())).steps.map(({ text }) => text)).toEqual(['1:old', '2:new']);
    opened.value.undo();
    expect(opened.value.state.value).toBe('old (from format 1)');
  });

  it('or a newer one, is refused with its faults and stays as it is', async () => {
    const store = tab();
    await store.create('old', 'progression', { name: 'from 3', text: '3:new', label: 'made' });
    const opened = DocumentSession.of(store, second, await loadedFrom(store));
    expect(opened).toMatchObject({ ok: false, error: [{ path: 'format', code: 'format.newer' }] });
    expect((await loadedFrom(tab())).steps.map(({ text }) => text)).toEqual(['3:new']);
  });
});

describe('a database of an older version', () => {
  it('is brought along step by step, with all that is in it', async () => {
    await makeIn(tab(), 'a', 'one');
    const seen: number[] = [];
    const more: Upgrade[] = [
      (database) => {
        seen.push(2);
        database.deleteObjectStore('versions');
      },
      (database) => {
        seen.push(3);
        database.createObjectStore('versions', { keyPath: ['document', 'number'] });
      },
    ];
    const store = new Store(
      new DatabaseDisk('gripwright', [...UPGRADES, ...more]),
      new TabMessages(),
    );
    expect(said(await openIn(store, 'a'))).toBe('one');
    expect(seen).toEqual([2, 3]);
  });

  it('that another tab does not let go of is told', async () => {
    // a tab that does not listen to those who want to upgrade
    const stubborn = await openDB('gripwright', 1, {
      upgrade(database) {
        for (const upgrade of UPGRADES) upgrade(database as never);
      },
    });
    const store = new Store(
      new DatabaseDisk('gripwright', [...UPGRADES, () => undefined]),
      new TabMessages(),
    );
    expect((await store.list(words.kind)).problem).toContain('close or reload that tab');
    stubborn.close();
    expect((await store.list(words.kind)).problem).toBeUndefined();
  });

  it('lets a newer program in, and says so when it is asked to keep more', async () => {
    const old = tab();
    await makeIn(old, 'a', 'one');
    const document = await openIn(old, 'a');
    const newer = new DatabaseDisk('gripwright', [...UPGRADES, () => undefined]);
    expect(await newer.heads(words.kind)).toHaveLength(1);
    document.edit(['two'], 'two');
    await document.settled();
    expect(document.state.problem).toContain('a newer Gripwright was here in another tab; reload');
    expect(said(document)).toBe('two');
  });
});
