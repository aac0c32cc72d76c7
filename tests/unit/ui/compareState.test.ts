/** Compare's state: what is asked, weighed, looked at and listed, with no worker between. */
import { describe, expect, it } from 'vitest';
import { refuse, type Result } from '$lib/result';
import { builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { repertoireText } from '$lib/coverage/repertoireFile';
import type { ComparedSound } from '$lib/coverage/soundLists';
import { compareAddressText, readCompareAddress } from '$lib/ui/compare/address';
import { Compare, type SetupShelf, type Weighing } from '$lib/ui/compare/compare.svelte';
import { addedType, fromProgression } from '$lib/ui/compare/repertoireEdits';
import { soundView } from '$lib/ui/compare/soundView';
import type { Entry } from '$lib/ui/kit/addressBar';
import { comparing } from './answering';

const SHELF: SetupShelf = {
  find: (id) => Promise.resolve(isBuiltInId(id) ? builtIn(id) : undefined),
  unknown: (id) => `There is no setup “${id}”.`,
};

function page(worker: Weighing = comparing()) {
  const written: { text: string; entry: Entry }[] = [];
  const compare = new Compare(worker, SHELF, (address, entry) =>
    written.push({ text: compareAddressText(address), entry }),
  );
  const open = (text: string): Promise<void> =>
    compare.open(readCompareAddress(new URLSearchParams(text)));
  return { compare, written, open };
}
/** Two small instruments, which take a moment to be weighed and not a second. */
const SMALL = 'setup=lap6-c6&with=lap6-a6';
async function opened(text: string) {
  const made = page();
  await made.open(text);
  return made;
}
const row = ({ rows }: Compare, type: string) => rows.find((each) => each.type === type);

describe('two setups', () => {
  it('are weighed, and it is said who is stronger where', async () => {
    const { compare } = await opened('');
    expect(compare.names).toEqual({ a: 'E9', b: 'Universal twelve' });
    expect(compare.verdict).toMatch(
      /^Universal twelve has more voicings in \d+ of 17 chord types\./,
    );
    const [said] = /\d+/.exec(compare.verdict) ?? [];
    expect(compare.rows.filter(({ stronger }) => stronger === 'b')).toHaveLength(Number(said));
    expect(compare.rows).toHaveLength(17);
    // numbers as text
    expect(row(compare, '')?.a.text).toMatch(/^[\d,]+$/);
    expect(compare.busy).toBe(false);
  });

  it('are others when others are chosen, and swapped', async () => {
    const { compare, written } = await opened('with=lap6-c6');
    const before = row(compare, '');
    await compare.swap();
    expect(compare.ids).toEqual({ a: 'lap6-c6', b: 'e9' });
    expect(row(compare, '')?.a.text).toBe(before?.b.text);
    expect(row(compare, '')?.b.text).toBe(before?.a.text);
    await compare.choose({ b: 'lap6-a6' });
    expect(compare.answered?.b).toBe(builtIn('lap6-a6'));
    expect(written).toEqual([
      { text: 'setup=lap6-c6&with=e9', entry: 'new' },
      { text: 'setup=lap6-c6&with=lap6-a6', entry: 'new' },
    ]);
  });

  it('that are one and the same are level in everything', async () => {
    const { compare } = await opened('setup=lap6-c6&with=lap6-c6');
    expect(compare.verdict).toBe('They are level in every chord type.');
    expect(compare.answered?.weighed.differingFrets).toEqual([]);
    for (const list of Object.values(compare.answered?.weighed.lists ?? {}))
      expect(list.count).toBe(0);
    expect(compare.entries).toEqual([]);
    expect(compare.listed).toMatchObject({ count: 0, patterns: 0 });
  });
});

describe('what is looked at', () => {
  it('by another measure and in another order, without weighing anew', async () => {
    const { compare, written } = await opened(SMALL);
    const { answered } = compare;
    await compare.look({ measure: 'least' });
    await compare.look({ order: 'use' });
    expect(compare.measure.better).toBe('less');
    expect(compare.rows[0]?.type).toBe('');
    expect(compare.answered).toBe(answered);
    expect(written.at(-1)).toEqual({ text: `${SMALL}&by=least&order=use`, entry: 'same' });
    const again = await opened(`${SMALL}&by=least&order=use`);
    expect(again.compare.rows).toEqual(compare.rows);
  });

  it('at another fret', async () => {
    const { compare, written } = await opened(SMALL);
    await compare.look({ fret: 24 });
    expect(written.at(-1)).toEqual({ text: `${SMALL}&fret=24`, entry: 'same' });
    // F with nothing pressed at fret 1 of E9 (common practice), the fourth degree of C
    const { compare: e9 } = await opened('setup=e9&with=lap6-c6');
    const pocket = e9.answered?.weighed.pockets.a.find(({ fret }) => fret === 1);
    expect(pocket?.chords.find(({ symbol }) => symbol === 'F')).toMatchObject({
      numeral: 'IV',
      match: 'complete',
    });
  });

  it('the sounds of one chord type, in each list, and more of them', async () => {
    const { compare, written } = await opened('');
    await compare.lookAtType('maj7');
    await compare.look({ list: 'easierA' });
    expect(written.at(-1)).toEqual({ text: 'list=easierA&type=maj7', entry: 'same' });
    expect(compare.entries).toHaveLength(12);
    expect(new Set(compare.entries.map(({ type }) => type))).toEqual(new Set(['maj7']));
    for (const { here, there } of compare.entries)
      expect(here.effort.total).toBeLessThan(there?.effort.total ?? 0);
    const [first] = compare.entries;
    const { answered } = compare;
    if (first === undefined || answered === undefined) throw new Error('nothing is easier');
    const view = soundView(answered, compare.ids, compare.names, 'easierA', first);
    expect(view.spoken).toMatch(/ major seventh, .* on E9 at fret \d+/);
    expect(view.ways.map(({ side }) => side)).toEqual(['a', 'b']);

    const before = compare.entries;
    await compare.showMore();
    expect(compare.entries.length).toBeGreaterThan(12);
    expect(compare.entries.slice(0, 12)).toEqual(before);
    expect(compare.listed.patterns).toBeGreaterThanOrEqual(compare.entries.length);
    // the same type once more is all types again
    await compare.lookAtType('maj7');
    expect(compare.view.type).toBeUndefined();
    expect(new Set(compare.entries.map(({ type }) => type)).size).toBeGreaterThan(1);
    expect(compare.listed).toBe(compare.answered?.weighed.lists.easierA);
  });
});

describe('what is asked', () => {
  it('a key: the pockets are of it; one that cannot be read is told, and the answer stays', async () => {
    const { compare, written } = await opened(SMALL);
    await compare.ask({ key: 'Eb' });
    expect(compare.answered?.options.key).toMatchObject({ tonic: { letter: 'E', alter: -1 } });
    expect(written.at(-1)).toEqual({ text: `${SMALL}&key=Eb`, entry: 'new' });
    const { answered } = compare;
    await compare.ask({ key: 'H' });
    expect(compare.faults).toEqual([
      'Key: found “H”; allowed is a key such as Eb, E♭ major, Cm or F# minor, of at most seven sharps or flats.',
    ]);
    expect(compare.answered).toBe(answered);
    await compare.ask({ key: '' });
    expect(compare.faults).toEqual([]);
    expect(written.at(-1)?.text).toBe(SMALL);
  });

  it('a pocket’s width and a most effort: more lies in a wider one, less below an effort', async () => {
    const { compare } = await opened('setup=e9&with=lap6-c6');
    const chords = (): number =>
      compare.answered?.weighed.pockets.a.reduce((sum, { chords }) => sum + chords.length, 0) ?? 0;
    const voicings = (): number =>
      compare.answered?.weighed.types.reduce((sum, { a }) => sum + (a?.voicings ?? 0), 0) ?? 0;
    const [narrow, all] = [chords(), voicings()];
    await compare.ask({ pocket: '2' });
    expect(chords()).toBeGreaterThan(narrow);
    await compare.ask({ pocket: '', effort: '1' });
    expect(compare.options).toMatchObject({ pocket: 0, mostEffort: 1 });
    expect(voicings()).toBeLessThan(all);
  });

  it('a repertoire of one’s own, and the everyday one again', async () => {
    const { compare, written } = await opened(SMALL);
    await compare.take(fromProgression('C | Am7 | Dm7 | G7').repertoire);
    expect(compare.everyday).toBe(false);
    expect(compare.rows).toHaveLength(3);
    expect(written.at(-1)?.text).toBe(`${SMALL}&repertoire=m7:2,maj:1,7:1`);

    await compare.take(addedType(compare.repertoire, '13').repertoire);
    expect(row(compare, '13')?.spoken).toBe('dominant thirteenth');
    await compare.take(compare.repertoire.filter(({ type }) => type !== 'm7'));
    expect(compare.rows).toHaveLength(3);
    expect(repertoireText(compare.answered?.repertoire ?? [])).toBe('maj:1,7:1,13:1');
    await compare.take(undefined);
    expect(compare.everyday).toBe(true);
    expect(compare.rows).toHaveLength(17);
    expect(written.at(-1)).toEqual({ text: SMALL, entry: 'new' });
  });

  it('a repertoire without the type that is looked at has the lists of all types', async () => {
    const { compare } = await opened(`${SMALL}&type=maj7&list=onlyA`);
    expect(compare.view.type).toBe('maj7');
    await compare.take([{ type: 'm', weight: 1 }]);
    expect(compare.view.type).toBeUndefined();
    expect(compare.view.list).toBe('onlyA');
    expect(new Set(compare.entries.map(({ type }) => type))).toEqual(new Set(['m']));
  });
});

describe('answers that come late, or not at all', () => {
  /** A worker that answers when it is let. */
  function slow() {
    const waiting: (() => Promise<void>)[] = [];
    const worker = comparing();
    const held = <T>(job: () => Promise<T>): Promise<T> =>
      new Promise((done) => waiting.push(async () => done(await job())));
    const made = page({
      weigh: (...given) => held(() => worker.weigh(...given)),
      entries: (...given) => held(() => worker.entries(...given)),
    });
    const answer = async (): Promise<void> => {
      await waiting.shift()?.();
      await new Promise((then) => setTimeout(then));
    };
    return { ...made, waiting, answer };
  }

  it('that of an older question is nobody’s', async () => {
    const { compare, open, waiting, answer } = slow();
    const first = open(SMALL);
    await new Promise((then) => setTimeout(then));
    const second = compare.swap();
    await new Promise((then) => setTimeout(then));
    expect(waiting).toHaveLength(2);
    await answer();
    expect(compare.answered).toBeUndefined();
    expect(compare.busy).toBe(true);
    await answer();
    expect(compare.answered?.a).toBe(builtIn('lap6-a6'));
    await answer();
    await Promise.all([first, second]);
    expect(compare.entries.length).toBeGreaterThan(0);
    expect(compare.busy).toBe(false);
  });

  it('a list that was left meanwhile is nobody’s', async () => {
    const { compare, open, answer } = slow();
    const first = open(SMALL);
    await new Promise((then) => setTimeout(then));
    await answer();
    await answer();
    await first;
    const lists = [compare.look({ list: 'onlyA' }), compare.lookAtType('6')];
    await answer();
    const early = compare.entries;
    await answer();
    await Promise.all(lists);
    expect(early.length).toBeGreaterThan(0);
    expect(new Set(compare.entries.map(({ type }) => type))).toEqual(new Set(['6']));
  });

  it('a worker that fails is told, and starts anew when it is asked again', async () => {
    const worker = comparing();
    let broken = true;
    const { compare, open } = page({
      weigh: (...given) =>
        broken ? Promise.resolve(refuse('It stopped.')) : worker.weigh(...given),
      entries: (...given): Promise<Result<ComparedSound[], string>> => worker.entries(...given),
    });
    await open(SMALL);
    expect(compare.failure).toBe('It stopped.');
    expect(compare.answered).toBeUndefined();
    expect(compare.busy).toBe(false);
    broken = false;
    await compare.weigh();
    expect(compare.failure).toBeUndefined();
    expect(compare.rows).toHaveLength(17);
  });
});
