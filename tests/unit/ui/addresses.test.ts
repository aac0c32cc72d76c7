/**
 * Addresses are written by anybody: what each place makes of one that nobody of us has written, a
 * sentence or the usual value in its stead, set down by hand.
 */
import { beforeEach, describe, expect, it } from 'vitest';
import { ok } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { DEFAULT_BANDS } from '$lib/strings/bands';
import { optionFaultText } from '$lib/answers/options';
import { Bench } from '$lib/ui/bench/bench.svelte';
import { readBenchAddress } from '$lib/ui/bench/benchAddress';
import { Consequences } from '$lib/ui/bench/consequences.svelte';
import { Draft } from '$lib/ui/bench/draft.svelte';
import { Keeping } from '$lib/ui/bench/keeping.svelte';
import { ChangePage } from '$lib/ui/change/change.svelte';
import type { Weighing } from '$lib/ui/change/changeAnswer.svelte';
import { changeAddressText, readChangeAddress } from '$lib/ui/change/changeAddress';
import { compareAddressText, readCompareAddress } from '$lib/ui/compare/address';
import { Compare } from '$lib/ui/compare/compare.svelte';
import { addressText, readAddress } from '$lib/ui/explore/address';
import { Explore } from '$lib/ui/explore/explore.svelte';
import {
  FIRST_TEXT,
  savedIn,
  progressionAddressText,
  readProgressionAddress,
} from '$lib/ui/arrange/address';
import { ProgressionKeeping } from '$lib/ui/arrange/keeping.svelte';
import { ProgressionState } from '$lib/ui/arrange/progression.svelte';
import { readBands } from '$lib/ui/strings/stringsAddress';
import { planOf, readPlan } from '$lib/ui/tuning/planTexts';
import { Tuned } from '$lib/ui/tuning/tuned.svelte';
import { arranging, comparing, counting, searching, tuning } from './answering';
import { newBrowser, setupsOfTab } from './tabs';

const parts = (text: string): URLSearchParams => new URLSearchParams(text);
/** Signs that a page must not trip over. */
const JUNK = '%25%3C%3E"\'&amp;%00%F0%9F%8E%B8';
const nowhere = (kind: string, id: string): string =>
  `There is no ${kind} “${id}” on this device. It may be kept in another browser, or deleted.`;

beforeEach(newBrowser);

describe('a part that an address leaves empty', () => {
  const names = (text: string): string[] => text.split(' ');
  // Empty texts that do say something are left out: `chord` (a field that was emptied) and `chords`
  // (an empty piece).
  it.each<[string, (given: URLSearchParams) => unknown, string[]]>([
    [
      'Explore',
      readAddress,
      names(
        'setup at engaged strings on slant view grips cells key frets grip top bass sizes use without match home slants balance neck',
      ),
    ],
    [
      'Change',
      readChangeAddress,
      names('setup at station learn list strain with without open upto want keep must never'),
    ],
    [
      'Compare',
      readCompareAddress,
      names('setup with repertoire key pocket effort by order list type fret'),
    ],
    [
      'Progression',
      readProgressionAddress,
      names(
        'setup progression frets home sizes pocket prefer avoid without must balance top match end slants locks',
      ),
    ],
    ['the Bench', readBenchAddress, names('setup neck')],
    ['Strings and rigging', readBands, names('near beyond')],
    ['Tuning', readPlan, names('method against chords neck anchor strength seventh')],
  ])('is not given: %s', (_, read, all) => {
    const nothing = read(parts(''));
    for (const name of all)
      for (const text of ['', '+']) expect(read(parts(`${name}=${text}`)), name).toEqual(nothing);
  });

  it('a kept progression without an id is none', () => {
    expect(savedIn(parts('progression='))).toBeUndefined();
  });
});

describe('Explore', () => {
  async function opened(text: string): Promise<Explore> {
    const explore = new Explore(searching(), await setupsOfTab(), () => undefined);
    await explore.open(readAddress(parts(text)));
    return explore;
  }
  const sentences = (explore: Explore): string[] => explore.faults.map(optionFaultText);

  it.each([
    ['setup=nothing', nowhere('setup', 'nothing')],
    ['setup=__proto__', nowhere('setup', '__proto__')],
    ['setup=kept-nothing&chord=F', nowhere('setup', 'kept-nothing')],
    [
      'setup=lent-nothing',
      'That setup was only looked at, and this tab has not got it any more. Open its link or file again.',
    ],
  ])('%s: says that it is not there, shows E9, and answers', async (text, sentence) => {
    const explore = await opened(text);
    expect(explore.lost).toBe(sentence);
    expect(explore.setupId).toBe('e9');
    expect(explore.setup).toBe(builtIn('e9'));
    expect(explore.list.findings?.count).toBeGreaterThan(0);
    await explore.change({ chord: 'G' });
    expect(explore.found?.symbol).toBe('G');
  });

  // what is passed over leaves no trace in the address that is written next
  it.each([
    ['colour=green&chord=C', ''],
    ['colour=green&chord=F', 'chord=F'],
    [JUNK, ''],
    ['key=&frets=&chord=F', 'chord=F'],
    ['engaged=A&strings=3,4,5', ''],
    ['view=map&grips=none&cells=many', ''],
    ['view=atlas&grips=none&cells=many', 'view=atlas'],
    ['chord=F&chord=G', 'chord=F'],
  ])('%s: what it does not know is passed over', async (text, written) => {
    const explore = await opened(text);
    expect(explore.faults).toEqual([]);
    expect(explore.lost).toBeUndefined();
    expect(explore.list.findings?.count).toBeGreaterThan(0);
    expect(addressText(explore.address)).toBe(written);
  });

  it.each([
    // the left knee cannot push both ways at once
    ['at=8&engaged=LKL,LKR&strings=3,4,5', { fret: 8, engaged: [], strings: [3, 4, 5] }],
    // three pedals at once are more than two
    ['at=8&engaged=A,B,C&strings=3', { fret: 8, engaged: [], strings: [3] }],
    ['at=8&engaged=Q&strings=77', { fret: 8, engaged: [], strings: [] }],
    ['at=8&engaged=A:half&strings=3,3', { fret: 8, engaged: [], strings: [] }],
    ['at=8&engaged=A,A&strings=3;4', { fret: 8, engaged: [], strings: [] }],
    ['at=999&strings=3,4,5', { fret: 24, engaged: [], strings: [3, 4, 5] }],
    ['at=1e9&strings=3,4,5', { fret: 24, engaged: [], strings: [3, 4, 5] }],
    ['at=-3&strings=3,4,5', { fret: 0, engaged: [], strings: [3, 4, 5] }],
    ['at=x&strings=3,4,5', { fret: 0, engaged: [], strings: [3, 4, 5] }],
    ['at=NaN', { fret: 0, engaged: [], strings: [] }],
    ['at=3&on=7&strings=3,4,5', { neck: 1, fret: 3, strings: [3, 4, 5] }],
    ['at=3&on=-1&strings=3,4,5', { neck: 1, fret: 3, strings: [3, 4, 5] }],
    ['at=3&slant=99&strings=3,4,5', { fret: 3, slant: 0, strings: [3, 4, 5] }],
    // at the nut there is no bar to turn
    ['at=0&slant=1&strings=3,4,5', { fret: 0, slant: 0, strings: [3, 4, 5] }],
  ])('%s: is held as far as the setup and the body allow it', async (text, held) => {
    const explore = await opened(text);
    expect(explore.hold).toMatchObject(held);
    expect(explore.list.findings?.count).toBeGreaterThan(0);
    // and it comes back as it is held
    const again = await opened(addressText(explore.address));
    expect(again.hold).toEqual(explore.hold);
  });

  it.each([
    [
      'frets=abc&chord=C',
      'frets: found “abc”; allowed is a fret or a range such as 0-12, within 0-24.',
    ],
    ['frets=9-3', 'frets: found “9-3”; allowed is a fret or a range such as 0-12, within 0-24.'],
    [
      'sizes=1-9',
      'sizes: found “1-9”; allowed is a number of strings or a range such as 3-4, within 1-6.',
    ],
    ['match=some', 'match: found “some”; allowed is complete, partial, rootless.'],
    ['grip=3,3', 'grip: found “3,3”; allowed is strings such as 3,4,5, each once, within 1-10.'],
    [
      'top=H',
      'top: found “H”; allowed is a note such as E4, or E for any octave; it is written the German way, whose B is B♭ here, and may mean B.',
    ],
    ['bass=4', 'bass: found “4”; allowed is a note such as E2, or E for any octave.'],
    [
      'without=A,Q',
      'without: found “A,Q”; allowed is ids of controls: A, B, C, LKL, LKV, LKR, RKL, RKR.',
    ],
    ['home=99', 'home: found “99”; allowed is a fret, 0 to 24.'],
    ['slants=maybe', 'slants: found “maybe”; allowed is on or off.'],
    [
      'balance=feet=99',
      'balance: found “feet=99”; allowed is parts and factors from 0 to 10, such as feet=2,bar=0.5 (feet, picking, bar, clarity).',
    ],
    ['neck=2', 'neck: found “2”; allowed is 1, the only neck.'],
    [
      'key=H',
      'key: found “H”; allowed is a key such as Eb or F#m; it is written the German way, whose B is B♭ here, and may mean B.',
    ],
    [
      'chord=%25%3C%3E',
      '“%<>” at place 1 is not understood; a chord begins with a letter from A to G.',
    ],
    ['chord=', 'There is no chord to read: a chord begins with a letter from A to G.'],
  ])(
    '%s: says a sentence, searches nothing, and answers the next question',
    async (text, sentence) => {
      const explore = await opened(text);
      expect(sentences(explore)).toEqual([sentence]);
      expect(explore.list.findings).toBeUndefined();
      expect(explore.busy).toBe(false);
      const part = text.slice(0, text.indexOf('='));
      await explore.change({ [part]: '', chord: 'G' });
      expect(explore.faults).toEqual([]);
      expect(explore.found?.symbol).toBe('G');
      expect(addressText(explore.address)).toBe('chord=G');
    },
  );

  it('tells every fault, each under its part', async () => {
    const explore = await opened(`chord=${'C'.repeat(20_000)}&frets=x&key=H`);
    expect(explore.faults.map(({ path }) => path)).toEqual(['chord', 'key', 'frets']);
  });
});

describe('Change', () => {
  const E9 = builtIn('e9');
  /** The page, and what it has had weighed; the numbers themselves are nothing to an address. */
  async function opened(text: string) {
    const weighed: (readonly [was: Setup, is: Setup])[] = [];
    const picture = { roots: [], lines: [] };
    const counts = { gained: 0, lost: 0, easier: 0, harder: 0 };
    const worker: Weighing = {
      weigh: (was, is) => {
        weighed.push([was, is]);
        return Promise.resolve(ok({ gain: 0, score: 0, counts, picture }));
      },
      picture: () => Promise.resolve(ok(picture)),
      rows: () => Promise.resolve(ok({ count: 0, rows: [] })),
      lesson: () => Promise.reject(new Error('nobody asks for a lesson')),
    };
    const change = new ChangePage(worker, E9, () => undefined);
    await change.open(readChangeAddress(parts(text)), E9);
    return { change, weighed };
  }

  it.each([
    ['colour=green', ''],
    [JUNK, ''],
    ['at=-1', ''],
    ['at=x', ''],
    ['at=2.5', ''],
    ['at=1e99', 'at=24'],
    ['station=XYZ', ''],
    ['station=p1', ''],
    ['learn=Q', ''],
    ['list=everything', ''],
    ['strain=some', ''],
    ['with=&without=&open=', ''],
  ])('%s: the usual stands in its stead', async (text, written) => {
    const { change, weighed } = await opened(text);
    expect(changeAddressText(change.address)).toBe(written);
    expect(change.faults).toEqual([]);
    expect(change.changed).toBe(false);
    expect(weighed).toEqual([[E9, E9]]);
    expect(change.answer.weighed).toBeDefined();
  });

  it.each([
    [
      'with=nonsense',
      'with: found “nonsense”; allowed is a station and its pulls, such as LKV:5-1,10-1 or RKR:2-1/-2,9-1.',
    ],
    [
      'with=QQ:5-1',
      'with: found “QQ:5-1”; allowed is a station: P1, P2, P3, P4, P5, P6, P7, P8, P9, P10, P11, P12, LKL, LKV, LKR, LKL2, LKV2, LKR2, RKL, RKV, RKR, RKL2, RKV2, RKR2, WRIST, PALM1, PALM2.',
    ],
    ['with=RKV:5%2B9', 'with: found “5+9”; allowed is 1 to 7 semitones up or down.'],
    ['with=RKV:11-1', 'with: found “11-1”; allowed is a string of that neck, 1 to 10.'],
    ['with=RKV:2.5-1', 'with: found “2.5-1”; allowed is a neck that is there; this setup has 1.'],
    [
      'with=RKV:5-2/-1',
      'with: found “5-2/-1”; allowed is a half-stop on the way to the full one, such as 2-1/-2.',
    ],
    ['with=RKV:5-1,5-2', 'with: found “RKV:5-1,5-2”; allowed is one pull for string 5.'],
    [
      'without=Q',
      'without: found “Q”; allowed is a control of this setup, each once: A, B, C, LKL, LKV, LKR, RKL, RKR.',
    ],
    [
      'without=A&without=A',
      'without: found “A”; allowed is a control of this setup, each once: A, B, C, LKL, LKV, LKR, RKL, RKR.',
    ],
    [
      'open=99:C4',
      'open: found “99:C4”; allowed is a string of this setup and its pitch, such as 9:C#3.',
    ],
    [
      'open=9:H4',
      'open: found “9:H4”; allowed is a string of this setup and its pitch, such as 9:C#3.',
    ],
  ])('%s: says a sentence, weighs nothing, and can be dropped', async (text, sentence) => {
    const { change, weighed } = await opened(text);
    expect(change.faults).toEqual([sentence]);
    expect(change.after).toBe(E9);
    expect(weighed).toEqual([]);
    expect(change.answer.busy).toBe(false);
    await change.discard();
    expect(change.faults).toEqual([]);
    expect(weighed).toEqual([[E9, E9]]);
  });

  it.each([
    ['upto=9', 'upto'],
    ['want=Hm', 'want'],
    ['keep=C@99', 'keep'],
    ['must=77', 'must'],
    ['never=x', 'never'],
    ['neck=2', 'neck'],
    ['sizes=1', 'sizes'],
  ])(
    'station=RKV&%s: a search for pulls that cannot be read is told under its part',
    async (text, part) => {
      const { change } = await opened(`station=RKV&${text}`);
      const { question } = change;
      expect(question.ok ? [] : question.error.map(({ path }) => path)).toEqual([part]);
    },
  );
});

describe('Compare', () => {
  async function opened(text: string): Promise<Compare> {
    const compare = new Compare(comparing(), await setupsOfTab(), () => undefined);
    await compare.open(readCompareAddress(parts(`setup=lap6-c6&with=lap6-a6&${text}`)));
    return compare;
  }

  it.each([
    ['colour=green', ''],
    [JUNK, ''],
    ['by=size', ''],
    ['order=none', ''],
    ['list=all', ''],
    ['type=zz', ''],
    ['fret=-2', ''],
    ['fret=99', ''],
    ['fret=1.5', ''],
    ['fret=x', ''],
  ])('%s: the usual stands in its stead', async (text, written) => {
    const compare = await opened(text);
    expect(compareAddressText(compare.address)).toBe(
      `setup=lap6-c6&with=lap6-a6${written === '' ? '' : `&${written}`}`,
    );
    expect(compare.faults).toEqual([]);
    expect(compare.answered).toBeDefined();
  });

  it.each([
    ['pocket=9', { pocket: 0 }],
    ['pocket=x', { pocket: 0 }],
    ['effort=4', { pocket: 0 }],
    ['effort=-1', { pocket: 0 }],
  ])('%s: is weighed as usual', async (text, options) => {
    const compare = await opened(text);
    expect(compare.options).toMatchObject(options);
    expect(compare.options.mostEffort).toBeUndefined();
    expect(compare.answered).toBeDefined();
  });

  it.each([
    [
      'key=H',
      'Key: found “H”; allowed is a key such as Eb, E♭ major, Cm or F# minor, of at most seven sharps or flats.',
    ],
    [
      'key=G%23',
      'Key: found “G#”; allowed is a key such as Eb, E♭ major, Cm or F# minor, of at most seven sharps or flats.',
    ],
    [
      'repertoire=zz:1',
      'Repertoire: found “zz”; allowed is a chord type such as m7, 6/9 or maj, each once.',
    ],
    [
      'repertoire=m7:-1',
      'Repertoire: found -1; allowed is a number above 0, at most 1,000,000,000.',
    ],
    [
      'repertoire=m7:1,m7:2',
      'Repertoire: found “m7” a second time; allowed is a chord type such as m7, 6/9 or maj, each once.',
    ],
  ])('%s: says a sentence, and is weighed with the usual in its stead', async (text, sentence) => {
    const compare = await opened(text);
    expect(compare.faults).toEqual([sentence]);
    // by the seventeen everyday types, in C
    expect(compare.answered?.repertoire).toHaveLength(17);
    expect(compare.answered?.options.key).toMatchObject({ tonic: { letter: 'C', alter: 0 } });
  });

  it.each([
    ['with=nowhere', ['nowhere']],
    ['setup=nowhere', ['nowhere']],
    ['setup=nowhere&with=kept-nothing', ['nowhere', 'kept-nothing']],
  ])('%s: says which setups are not there, until others are chosen', async (text, ids) => {
    const compare = new Compare(comparing(), await setupsOfTab(), () => undefined);
    await compare.open(readCompareAddress(parts(text)));
    expect(compare.unknown).toEqual(ids.map((id) => nowhere('setup', id)));
    expect(compare.answered).toBeUndefined();
    expect(compare.busy).toBe(false);
    await compare.choose({ a: 'lap6-c6', b: 'lap6-a6' });
    expect(compare.unknown).toEqual([]);
    expect(compare.answered?.b).toBe(builtIn('lap6-a6'));
  });
});

describe('Progression', () => {
  async function opened(text: string): Promise<ProgressionState> {
    const state = new ProgressionState(arranging(), await setupsOfTab(), () => undefined);
    await state.open(readProgressionAddress(parts(text)));
    return state;
  }

  it.each(['colour=green', JUNK, 'frets=&locks=', 'long-text='])(
    '%s: what it does not know is passed over, and the first piece stands there',
    async (text) => {
      const state = await opened(text);
      expect(state.text).toBe(FIRST_TEXT);
      expect(state.wishFaults).toEqual([]);
      expect(state.way?.steps).toHaveLength(9);
      expect(progressionAddressText(state.asked)).toBe('');
    },
  );

  it('an unknown setup is told, and another one can be chosen', async () => {
    const state = await opened('setup=nothing&chords=G');
    expect(state.failure).toBe(
      `${nowhere('setup', 'nothing')} Choose one in the header, and the piece is arranged for it.`,
    );
    expect(state.answered).toBeUndefined();
    await state.choose('e9');
    expect(state.failure).toBeUndefined();
    expect(state.way?.steps).toHaveLength(1);
  });

  it.each([
    ['frets=low', 'frets', 'found “low”; allowed is a fret or a range such as 3-8, within 0-24.'],
    ['home=x', 'home', 'found “x”; allowed is a fret, 0 to 24.'],
    ['top=loud', 'top', 'found “loud”; allowed is exact, octave (any octave) or off.'],
    [
      'avoid=3-4-99',
      'avoid',
      'found “3-4-99”; allowed is grips such as 3-4-5,6-8-10, of strings 1 to 10.',
    ],
    ['must=99', 'must', 'found “99”; allowed is degrees such as 1,5 (1 to 13).'],
    [
      'locks=1%3Dfret:99',
      'locks',
      'found “1=fret:99”; allowed is chord numbers with what is wished there, such as 2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5.',
    ],
    [
      'locks=0%3Dfret:3',
      'locks',
      'found “0=fret:3”; allowed is chord numbers with what is wished there, such as 2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5.',
    ],
    [
      // the left knee cannot push both ways at once
      'locks=1%3Dhold:3/LKL,LKR/3-4-5',
      'locks',
      'found “1=hold:3/LKL,LKR/3-4-5”; allowed is chord numbers with what is wished there, such as 2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5.',
    ],
  ] as const)(
    '%s: says a sentence, searches nothing, and goes on without it',
    async (text, part, words) => {
      const state = await opened(`chords=G&${text}`);
      expect(state.wishFaults).toEqual([{ part, words }]);
      expect(state.answered).toBeUndefined();
      expect(state.busy).toBe(false);
      await state.wish(part, '');
      expect(state.wishFaults).toEqual([]);
      expect(state.way?.steps).toHaveLength(1);
    },
  );

  it('chords that cannot be read are told at their place, the others are taken', async () => {
    const state = await opened(`chords=${encodeURIComponent('G | <b>Hx</b> | C')}`);
    expect(state.read.faults).toHaveLength(1);
    expect(state.read.faults[0]).toMatchObject({ where: 'line 1, place 5', slot: { bar: 1 } });
    expect(state.way?.steps.map(({ chord }) => chord.symbol)).toEqual(['G', 'C']);
  });

  it('a progression that is not kept here is told', async () => {
    const keeping = new ProgressionKeeping();
    expect(await keeping.open('kept-nowhere')).toBeUndefined();
    expect(keeping.trouble).toBe(nowhere('progression', 'kept-nowhere'));
    expect(await keeping.open(undefined)).toBeUndefined();
    expect(keeping.trouble).toBeUndefined();
  });
});

describe('the Bench', () => {
  async function opened(text: string): Promise<{ keeping: Keeping; bench: Bench }> {
    const bench = new Bench(new Draft(builtIn('e9')), new Consequences(counting()));
    const keeping = new Keeping(await setupsOfTab(), bench, () => undefined);
    const { setup, neck } = readBenchAddress(parts(text));
    await keeping.open(setup, neck);
    return { keeping, bench };
  }

  it.each([
    ['colour=green', 1],
    [JUNK, 1],
    ['neck=0', 1],
    ['neck=-1', 1],
    ['neck=1.5', 1],
    ['neck=x', 1],
    ['neck=2', 2],
    ['neck=99', 2],
    ['neck=1e9', 2],
  ])('setup=double&%s: neck %i', async (text, neck) => {
    const { keeping, bench } = await opened(`setup=double&${text}`);
    expect([keeping.id, bench.neckNumber]).toEqual(['double', neck]);
    expect(bench.chart.neck).toBe(['E9', 'C6'][neck - 1]);
  });

  it.each(['nothing', 'kept-nowhere', '__proto__'])(
    'setup=%s: says that it is not there, and E9 is shown',
    async (id) => {
      const { keeping, bench } = await opened(`setup=${id}&neck=2`);
      expect(keeping.problem).toBe(nowhere('setup', id));
      expect(keeping.id).toBe('e9');
      expect(bench.chart.neck).toBe('E9');
    },
  );
});

describe('Strings and rigging', () => {
  // 10 to 150 percent make sense
  it.each(['near=9', 'near=151', 'near=x', 'near=', 'near=-80', 'near=Infinity', JUNK])(
    '%s: the usual bands stand in its stead',
    (text) => {
      expect(readBands(parts(text))).toEqual(DEFAULT_BANDS);
    },
  );
  it('what makes sense is taken, each part by itself', () => {
    expect(readBands(parts('near=10&beyond=151'))).toEqual({ ...DEFAULT_BANDS, shareNear: 0.1 });
    expect(readBands(parts('near=x&beyond=150'))).toEqual({ ...DEFAULT_BANDS, shareBeyond: 1.5 });
  });
});

describe('Tuning', () => {
  it.each([
    ['method=loud', { method: 'fitted' }],
    // what it was called before, in addresses that are still about
    ['method=sweet', { method: 'fitted' }],
    ['strength=-1', { strength: 0 }],
    ['strength=x', { strength: 0 }],
    ['seventh=5/3', { seventh: '16/9' }],
    [JUNK, { method: 'fitted', strength: 0, seventh: '16/9' }],
  ])('%s: the usual stands in its stead', (text, plan) => {
    const read = planOf(readPlan(parts(text)), 'method');
    expect(read.ok && read.value).toMatchObject(plan);
  });

  it.each(['anchor=0', 'anchor=15', 'anchor=x'])('%s: no string is the anchor', (text) => {
    const read = planOf(readPlan(parts(text)), 'method');
    expect(read.ok && read.value.anchor).toBeUndefined();
  });

  it.each([
    ['neck=0', 1],
    ['neck=-3', 1],
    ['neck=x', 1],
    ['neck=99', 2],
  ])('%s: neck %i of two', (text, neck) => {
    const tuned = new Tuned(tuning());
    tuned.texts = readPlan(parts(text));
    expect(tuned.neckIn(builtIn('double'))).toBe(neck);
  });

  it('chords that cannot be read are told', async () => {
    const tuned = new Tuned(tuning());
    tuned.texts = readPlan(parts('chords=C+Hm'));
    await tuned.make(builtIn('e9'));
    expect(tuned.fault).toBe(
      '“Hm” at place 1 is not understood; a chord begins with a letter from A to G. It is written the German way, whose B is B♭ here. Did you mean Bm?',
    );
    expect(tuned.tuning).toBeUndefined();
    expect(tuned.busy).toBe(false);
  });
});
