/** One file with everything, saved here and opened there. */
import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import {
  afterwards,
  everythingText,
  readEverything,
  restoring,
  type Everything,
} from '$lib/storage/everything';
import { restoredEverything, savedEverything } from '$lib/storage/saveEverything';
import type { StoredDocument, Step } from '$lib/storage/storedDocument';
import { runs } from '../../battery';
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

  it.each([
    ['{"format":1,"program":"Gripwright","doc', /not JSON/],
    ['{"format":1,"program":"Another","documents":[]}', /none that “Save everything”/],
    ['{"format":2,"program":"Gripwright","documents":[]}', /format 2; this program reads 1/],
    ['{"format":1,"program":"Gripwright","documents":[{}]}', /Document 1 of the file/],
    [
      '{"format":1,"program":"Gripwright","documents":[{"entry":{"id":"a","kind":"setup","head":1},"steps":[{"number":1,"after":0}],"versions":[]}]}',
      /“a”, has a history that cannot be read/,
    ],
  ])('that is none (%s) is refused with a sentence, and nothing is changed', async (text, why) => {
    await makeIn(tab(), 'a', 'one');
    const restored = await restoredEverything(tab(), text, () => 'new');
    expect(restored.ok ? '' : restored.error.join(' ')).toMatch(why);
    expect(said(await openIn(tab(), 'a'))).toBe('one');
  });
});
