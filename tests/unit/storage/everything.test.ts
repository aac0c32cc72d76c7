/** One file with everything, saved here and opened there. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  afterwards,
  everythingText,
  readEverything,
  restoring,
  type Everything,
} from '$lib/storage/everything';
import type { Practice } from '$lib/practice/record';
import type { Answered, Grade } from '$lib/practice/schedule';
import { DocumentSession } from '$lib/storage/documentSession';
import { practiceKind } from '$lib/storage/practiceKind';
import type { Store } from '$lib/storage/store';
import { restoredEverything, savedEverything } from '$lib/storage/saveEverything';
import type { StoredDocument, Step } from '$lib/storage/storedDocument';
import { battery, runs } from '../../battery';
import { freshBrowser, makeIn, openIn, said, tab } from './tabs';

/** Histories as moves make them: every step on one of those before it. */
const documents = fc
  .record({
    id: fc.constantFrom('a', 'b', 'c'),
    kind: fc.constantFrom('setup', 'progression'),
    moves: fc.array(fc.record({ back: fc.nat(3), text: fc.constantFrom('x', 'y', 'z') }), {
      minLength: 1,
      maxLength: 6,
    }),
    named: fc.array(fc.nat(5), { maxLength: 2 }),
  })
  .map(({ id, kind, moves, named }): StoredDocument => {
    const steps = moves.map(({ back, text }, at): Step => ({
      number: at + 1,
      after: at === 0 ? 0 : Math.max(1, at - back),
      label: text,
      at,
      name: text,
      text,
    }));
    const head = steps.length;
    const name = steps.at(-1)?.name ?? '';
    return {
      entry: { id, kind, name, revision: 3, head, made: 0, changed: head },
      steps,
      versions: named.map((step, at) => ({
        number: at + 1,
        step: Math.min(step + 1, head),
        name: `v${step}`,
        at,
      })),
    };
  });
const device = fc.uniqueArray(documents, { selector: ({ entry }) => entry.id, maxLength: 3 });

let ids = 0;
const restoredOnto = (here: readonly StoredDocument[], file: Everything) =>
  file.documents.reduce((all, document) => {
    const made = restoring(all, document, () => `copy-${++ids}`);
    return made === undefined ? all : afterwards(all, made);
  }, here);
const back = (all: readonly StoredDocument[]): Everything => {
  const read = readEverything(everythingText({ documents: all, choices: {} }));
  if (!read.ok) throw new Error(read.error.join(' '));
  return read.value;
};
const history = ({ entry, steps, versions }: StoredDocument) => ({
  kind: entry.kind,
  steps,
  versions: versions.map(({ step, name }) => ({ step, name })),
});
/** All of a history is in one of those on the device. */
const holds = (here: readonly StoredDocument[], document: StoredDocument): boolean =>
  here.some(
    ({ entry, steps, versions }) =>
      entry.kind === document.entry.kind &&
      document.steps.every(
        (step) => JSON.stringify(steps[step.number - 1]) === JSON.stringify(step),
      ) &&
      document.versions.every((v) => versions.some((w) => w.step === v.step && w.name === v.name)),
  );

describe('everything, saved and restored', () => {
  it('on a device without anything is the same', () => {
    fc.assert(
      fc.property(device, (all) => {
        const there = restoredOnto([], back(all));
        // what is in another document already comes once
        for (const document of all) expect(holds(there, document)).toBe(true);
        for (const document of there) expect(all.map(history)).toContainEqual(history(document));
      }),
      { numRuns: runs(200) },
    );
  });

  it('twice is once', () => {
    fc.assert(
      fc.property(device, device, (all, here) => {
        const once = restoredOnto(here, back(all));
        expect(restoredOnto(once, back(all))).toEqual(once);
      }),
      { numRuns: runs(200) },
    );
  });

  it('onto anything loses nothing of it, and nothing of the file', () => {
    fc.assert(
      fc.property(device, device, (all, here) => {
        const there = restoredOnto(here, back(all));
        for (const document of [...here, ...all]) expect(holds(there, document)).toBe(true);
      }),
      { numRuns: runs(300) },
    );
  });
});

describe('a file with everything', () => {
  beforeEach(freshBrowser);

  it('brings a history onto another device, to be undone there, and goes on with it', async () => {
    const store = tab();
    await makeIn(store, 'a', 'one');
    const document = await openIn(store, 'a');
    document.edit(['two'], 'two');
    document.saveVersion('named');
    await document.settled();
    const saved = await savedEverything(store);
    if (!saved.ok) throw new Error(saved.error);

    freshBrowser();
    expect(await restoredEverything(tab(), saved.value, () => 'new')).toMatchObject({
      value: 'is opened: 1 restored, 0 continued, 0 kept beside what is here, 0 here already.',
    });
    const there = await openIn(tab(), 'a');
    expect(said(there)).toBe('two');
    expect(there.state.versions.map(({ name }) => name)).toEqual(['named']);
    there.undo();
    there.edit(['three'], 'three');
    await there.settled();
    expect(await restoredEverything(tab(), saved.value, () => 'new')).toMatchObject({
      value: 'is opened: 0 restored, 0 continued, 0 kept beside what is here, 1 here already.',
    });
    expect(said(await openIn(tab(), 'a'))).toBe('three');
  });

  it('brings what was practised along, answer by answer, to be taken back there', async () => {
    const here = tab();
    const card = (...grades: readonly Grade[]): readonly Answered[] =>
      grades.map((grade, at) => ({ at: 1000 + at, grade }));
    const first: Practice = {
      setup: 'e9',
      name: 'E9',
      answers: new Map([['find/1', card('good')]]),
    };
    await here.create('p', practiceKind.kind, {
      ...{ name: first.name, text: practiceKind.write(first), label: 'made' },
    });
    const practised = async (store: Store): Promise<DocumentSession<Practice>> => {
      const loaded = await store.load('p');
      if (!loaded.ok || loaded.value === undefined) throw new Error('not kept');
      const opened = DocumentSession.of(store, practiceKind, loaded.value);
      if (!opened.ok) throw new Error(JSON.stringify(opened.error));
      return opened.value;
    };
    const document = await practised(here);
    const more = new Map([
      ['find/1', card('good', 'easy')],
      ['name/2', card('again')],
    ]);
    document.edit({ ...first, answers: more }, 'a round');
    await document.settled();
    const saved = await savedEverything(here);
    if (!saved.ok) throw new Error(saved.error);

    freshBrowser();
    await restoredEverything(tab(), saved.value, () => 'new');
    const there = await practised(tab());
    expect(there.state.value).toEqual({ ...first, answers: more });
    there.undo();
    expect(there.state.value.answers).toEqual(first.answers);
  });

  it.each([
    [
      '{"format":1,"program":"Gripwright","doc',
      /not JSON \(before the first document, at character \d+ of 39\)/,
    ],
    [
      // cut in the middle of the second document
      '{"format":1,"program":"Gripwright","documents":[{"entry":{"id":"a"},"steps":[]},{"entry":{"id":"b","ki',
      /not JSON \(in document 2, at character \d+ of 102\)/,
    ],
    ['{"format":1,"program":"Another","documents":[]}', /none that “Save everything”/],
    ['{"format":2,"program":"Gripwright","documents":[]}', /format 2; this program reads 1/],
    ['{"format":1,"program":"Gripwright","documents":[{}]}', /Document 1 of the file/],
    [
      '{"format":1,"program":"Gripwright","documents":[{"entry":{"id":"a","kind":"setup","head":1},"steps":[{"number":1,"after":0}],"versions":[]}]}',
      /Document 1 of the file, “a”, has a history that cannot be read: step 1 cannot be read\./,
    ],
  ])('that is none (%s) is refused with a sentence, and nothing is changed', async (text, why) => {
    await makeIn(tab(), 'a', 'one');
    const restored = await restoredEverything(tab(), text, () => 'new');
    expect(restored.ok ? '' : restored.error.join(' ')).toMatch(why);
    expect(said(await openIn(tab(), 'a'))).toBe('one');
  });
});

/** What a page can lay down at once, by name. */
function layDown(kept: Readonly<Record<string, string>>): Storage {
  const all = new Map(Object.entries(kept));
  const storage = {
    getItem: (name: string) => all.get(name) ?? null,
    setItem: (name: string, text: string) => {
      all.set(name, text);
      Object.assign(storage, { [name]: text });
    },
  };
  Object.assign(storage, kept);
  vi.stubGlobal('localStorage', storage);
  return storage as unknown as Storage;
}

describe('choices', () => {
  beforeEach(freshBrowser);
  afterEach(() => {
    vi.unstubAllGlobals();
  });
  const HERE = {
    'gripwright-theme': 'dark',
    'gripwright-sound': '{"level":0.4}',
    'gripwright-chosen-later': 'x',
    // what speaks of this device alone
    'gripwright-known-setup': '[]',
    'gripwright-left-1': '[]',
    'of-another-program': 'y',
  };

  it('are all saved, and none of what speaks of the device', async () => {
    layDown(HERE);
    const saved = await savedEverything(tab());
    if (!saved.ok) throw new Error(saved.error);
    expect((JSON.parse(saved.value) as Everything).choices).toEqual({
      'gripwright-theme': 'dark',
      'gripwright-sound': '{"level":0.4}',
      'gripwright-chosen-later': 'x',
    });
  });

  it('come where nothing is chosen, and replace nothing that is', async () => {
    layDown(HERE);
    const saved = await savedEverything(tab());
    if (!saved.ok) throw new Error(saved.error);
    const there = layDown({ 'gripwright-theme': 'light' });
    const restored = await restoredEverything(tab(), saved.value, () => 'new');
    expect(restored.ok ? restored.value : '').toContain('choices count from the next start');
    expect(there.getItem('gripwright-theme')).toBe('light');
    expect(there.getItem('gripwright-sound')).toBe('{"level":0.4}');
    expect(there.getItem('gripwright-chosen-later')).toBe('x');
  });

  it('of a file can only be choices', async () => {
    const there = layDown({});
    const choices = { ...HERE, 'gripwright-huge': 'x'.repeat(100_001), 'gripwright-theme': 'dark' };
    const text = everythingText({ documents: [], choices });
    await restoredEverything(tab(), text, () => 'new');
    const kept = Object.keys(HERE)
      .concat('gripwright-huge')
      .filter((name) => there.getItem(name));
    expect(kept).toEqual(['gripwright-theme', 'gripwright-sound', 'gripwright-chosen-later']);
  });

  it('are kept under names of the program alone, so that none is left out', () => {
    const sources = import.meta.glob<string>('../../../src/lib/**/*.{ts,svelte}', {
      query: '?raw',
      import: 'default',
      eager: true,
    });
    const keeping = Object.entries(sources).filter(([, text]) => text.includes('localStorage'));
    expect(keeping.length).toBeGreaterThan(3);
    for (const [file, text] of keeping) {
      if (file.endsWith('saveEverything.ts')) continue;
      expect(text, file).toMatch(/['`]gripwright-(?:[a-z-]|\$\{)/);
    }
  });
});

battery(
  'a file of so many megabytes with everything is saved, restored, and refused where it is cut',
  { slice: 1, whole: 10 },
  async ({ count, random }) => {
    freshBrowser();
    const bytes = (): string =>
      Array.from({ length: 100 }, () => Math.floor(random() * 1e10).toString(36)).join(' ');
    const made = Array.from({ length: 12 * count }, (_, at): StoredDocument => {
      const steps = Array.from({ length: 100 }, (_each, step): Step => ({
        number: step + 1,
        after: step,
        label: 'edited',
        at: step,
        name: `piece ${at}`,
        text: bytes(),
      }));
      const name = `piece ${at}`;
      return {
        entry: {
          id: `k${at}`,
          kind: 'progression',
          name,
          revision: 3,
          head: 100,
          made: 0,
          changed: 9,
        },
        steps,
        versions: [{ number: 1, step: 50, name: 'half way', at: 0 }],
      };
    });
    const text = everythingText({ documents: made, choices: {} });
    expect(text.length).toBeGreaterThan(0.9e6 * count);
    expect(await restoredEverything(tab(), text, () => 'new')).toMatchObject({
      value: `is opened: ${made.length} restored, 0 continued, 0 kept beside what is here, 0 here already.`,
    });
    const saved = await savedEverything(tab());
    if (!saved.ok) throw new Error(saved.error);
    const back = readEverything(saved.value);
    if (!back.ok) throw new Error(back.error.join(' '));
    expect(new Set(back.value.documents.map((each) => JSON.stringify(history(each))))).toEqual(
      new Set(made.map((each) => JSON.stringify(history(each)))),
    );
    expect(await restoredEverything(tab(), saved.value, () => 'new')).toMatchObject({
      value: `is opened: 0 restored, 0 continued, 0 kept beside what is here, ${made.length} here already.`,
    });
    const cut = readEverything(text.slice(0, text.indexOf('"id":"k4"') + 500));
    expect(cut.ok ? '' : cut.error.join(' ')).toContain('not JSON (in document 5, at character');
  },
);
