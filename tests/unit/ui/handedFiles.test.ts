/** Files that the device hands over: laid down by the service worker, taken out once, and read by what they are. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { contentOfFile } from '$lib/ui/shelf/fileContent';
import { layDown, takeOut, whenOpenedWith } from '$lib/ui/shelf/handedFiles';

/** The browser's stores as far as they are used here, in memory. */
function memoryStores(): CacheStorage {
  const stores = new Map<string, Map<string, Response>>();
  const open = (name: string): unknown => {
    const store = stores.get(name) ?? new Map<string, Response>();
    stores.set(name, store);
    return {
      put: (key: string, value: Response) => Promise.resolve(void store.set(key, value)),
      keys: () => Promise.resolve([...store.keys()]),
      match: (key: string) => Promise.resolve(store.get(key)),
    };
  };
  return {
    open: (name: string) => Promise.resolve(open(name)),
    has: (name: string) => Promise.resolve(stores.has(name)),
    delete: (name: string) => Promise.resolve(stores.delete(name)),
  } as unknown as CacheStorage;
}

function formOf(...parts: readonly (readonly [string, string | File])[]): FormData {
  const form = new FormData();
  for (const [name, part] of parts) form.append(name, part);
  return form;
}

describe('what another program shares', () => {
  it('is taken out once, in order, with its names', async () => {
    const stores = memoryStores();
    const files = ['Öl & Eisen.json', 'b.abc'].map((name) => new File([`in ${name}`], name));
    const rest = await layDown(formOf(...files.map((file) => ['file', file] as const)), stores);
    expect(rest).toBe('?from=device');
    const taken = await takeOut(stores);
    expect(taken.map(({ name }) => name)).toEqual(['Öl & Eisen.json', 'b.abc']);
    expect(await taken[0]?.text()).toBe('in Öl & Eisen.json');
    expect(await takeOut(stores)).toEqual([]);
  });

  it('what came before and was not looked at does not mix with what comes now', async () => {
    const stores = memoryStores();
    await layDown(formOf(['file', new File(['1'], 'old.abc')]), stores);
    await layDown(formOf(['file', new File(['2'], 'new.abc')]), stores);
    expect((await takeOut(stores)).map(({ name }) => name)).toEqual(['new.abc']);
  });

  it('a link of the program is followed; any other text is a file of its own', async () => {
    const stores = memoryStores();
    const link = 'Look: https://example.org/steel/open/#s1.abc-DEF_~9 !';
    expect(await layDown(formOf(['text', link]), stores)).toBe('#s1.abc-DEF_~9');
    expect(await takeOut(stores)).toEqual([]);
    expect(await layDown(formOf(['title', ''], ['text', 'C | F | G']), stores)).toBe(
      '?from=device',
    );
    expect(await (await takeOut(stores))[0]?.text()).toBe('C | F | G');
  });

  it('nothing is there where the browser has no store', async () => {
    expect(await takeOut(undefined)).toEqual([]);
  });
});

it('a browser that opens files with the program hands them over; one that does not is no trouble', async () => {
  const got = await new Promise<readonly File[]>((done) => {
    const files = [{ getFile: () => Promise.resolve(new File(['x'], 'x.json')) }];
    whenOpenedWith(done, { launchQueue: { setConsumer: (take) => take({ files }) } });
  });
  expect(got.map(({ name }) => name)).toEqual(['x.json']);
  whenOpenedWith(() => expect.unreachable(), {});
  whenOpenedWith(() => expect.unreachable(), {
    launchQueue: { setConsumer: (take) => take({ files: [] }) },
  });
  expect.assertions(1);
});

describe('what a file is', () => {
  const of = (text: string, name: string) => contentOfFile(new File([text], name), 'e9');

  it('a setup, by what is in it', async () => {
    const read = await of(readFileSync(inRoot('shared/setups/c6.json'), 'utf8'), 'mine.json');
    expect(
      read.ok && read.value.kind === 'setup' && read.value.setup.necks[0]?.strings.length,
    ).toBe(10);
  });

  it('a score, by its ending, on the setup that is played', async () => {
    const tune = 'X:1\nT:Gate\nM:4/4\nL:1/4\nK:G\n"G"GABc|"C"c2E2|"G"G4|]\n';
    const read = await of(tune, 'gate.abc');
    expect(read.ok && read.value.kind === 'progression' && read.value.progression.setup).toBe('e9');
    expect(
      read.ok && read.value.kind === 'progression' && read.value.progression.piece.measures,
    ).toHaveLength(3);
  });

  it('a text, which may be a chart', async () => {
    const read = await of('E9\n1 F#\n2 D#\n', 'chart.txt');
    expect(read).toEqual({ ok: true, value: { kind: 'chart' } });
    const table = await of(
      '| string | open | A |\n|---|---|---|\n| 1 | F# | |\n| 5 | B | C# |',
      't.txt',
    );
    expect(table).toEqual({ ok: true, value: { kind: 'chart' } });
    const chords = await of('C | F | G7 | C', 'shared.txt');
    expect(chords.ok && chords.value.kind).toBe('progression');
  });

  it('a broken file of ours says where it is broken; a file of notes alone says what it needs', async () => {
    const broken = await of('{"format": 1, "name": 7}', 'x.json');
    expect(broken.ok || broken.error.sentence).toBe('x.json cannot be opened:');
    expect(broken.ok ? [] : broken.error.faults.length).toBeGreaterThan(0);
    const notes = await of('MThd', 'x.mid');
    expect(notes.ok ? '' : notes.error.faults.join()).toMatch(/notes and no chord symbols/u);
  });
});
