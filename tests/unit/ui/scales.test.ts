/** What the page knows of scales, of what leads on, and of passages: answered by workers of the same thread. */
import { describe, expect, it } from 'vitest';
import { ok, refuse } from '$lib/result';
import { readChord } from '$lib/theory/readChord';
import { builtIn } from '$lib/setup/builtIns';
import { HOLD } from '$lib/answers/holdOption';
import { scales } from '$lib/answers/scaleView';
import { SCALE_HOME, addressText, readAddress, type ScaleView } from '$lib/ui/explore/address';
import { LeadsOnList } from '$lib/ui/explore/leadsOn.svelte';
import { PassageList } from '$lib/ui/explore/passageList.svelte';
import { ScaleSheet, scaleMeant } from '$lib/ui/scales/scaleSheet.svelte';
import { passageOf, tempoOf } from '$lib/ui/scales/stepsPlayer.svelte';
import { poolOf } from './answering';

const e9 = builtIn('e9');
const lap = builtIn('lap6-c6');
const chord = (text: string) => {
  const read = readChord(text);
  if (!read.ok || read.value === 'no chord') throw new Error(text);
  return read.value;
};
const hold = (text: string) => {
  const read = HOLD.read(text, e9);
  if (read === undefined) throw new Error(text);
  return read;
};
const view = (part: Partial<ScaleView>): ScaleView => ({ ...SCALE_HOME, ...part });
const meant = (name: string) => {
  const { scale } = scaleMeant(name, undefined, undefined);
  if (scale === undefined) throw new Error(name);
  return scale;
};

describe('the scale that is meant', () => {
  it('is the one that is named, else that of the chord', () => {
    expect(scaleMeant('D dorian', chord('G7'), undefined).scale?.name).toBe('D dorian');
    // common practice: a dominant seventh has the mixolydian scale
    expect(scaleMeant('', chord('G7'), undefined).scale?.name).toBe('G mixolydian');
    expect(scaleMeant('', undefined, undefined)).toEqual({});
  });

  it('is that of the chord while a name cannot be read, which is told with what is near it', () => {
    const { scale, fault } = scaleMeant('G mixolidian', chord('C'), undefined);
    expect(scale?.name).toBe('C major');
    expect(fault).toContain('mixolydian');
  });

  it('comes back from an address with all that is asked of it', () => {
    const asked = view({ show: 'ladder', scale: 'D dorian', interval: 'tenths', slants: 'on' });
    const address = { setup: 'e9', texts: { chord: 'C' }, scale: asked };
    expect(readAddress(new URLSearchParams(addressText(address))).scale).toEqual(asked);
  });
});

describe('the sheet of a scale', () => {
  it('shows pockets with the run of the best, and of another that is chosen', async () => {
    const sheet = new ScaleSheet(poolOf(1, () => undefined));
    const scale = meant('G mixolydian');
    await sheet.find(lap, scale, 1, view({ show: 'pockets', pocket: '1' }));
    expect(sheet.chosen).toEqual(sheet.pockets?.[0]);
    const [first, second] = sheet.pockets ?? [];
    const notes = () => sheet.run?.map(({ hold }) => hold.pitches[0]) ?? [];
    expect(Math.min(...(notes() as number[]))).toBe(first?.range[0]);
    if (second === undefined) throw new Error('one pocket');
    await sheet.choose(lap, scale, 1, second);
    expect([Math.min(...(notes() as number[])), Math.max(...(notes() as number[]))]).toEqual(
      second.range,
    );
  });

  it('tells why there is no ladder, and forgets that with the next one', async () => {
    const sheet = new ScaleSheet(poolOf(1, () => undefined));
    const scale = meant('C major');
    const thirds = view({ show: 'ladder', interval: 'thirds', strings: '1,2' });
    await sheet.find(lap, scale, 1, { ...thirds, interval: 'sixths' });
    expect(sheet.ladder).toBeUndefined();
    expect(sheet.brokenOff?.why).toContain('sixths');
    await sheet.find(lap, scale, 1, thirds);
    expect(sheet.brokenOff).toBeUndefined();
    // a straight bar has major thirds alone there: F-A and G-B are the only neighbours
    expect(sheet.ladder?.rungs.length).toBeGreaterThan(7);
    await sheet.find(lap, scale, 1, { ...thirds, way: 'up', slants: 'off' });
    expect(sheet.ladder?.rungs.map(({ degree }) => degree)).toEqual(['6', '7']);
  });

  it('keeps to the newest question, however late an older answer comes', async () => {
    const late: (() => void)[] = [];
    const sheet = new ScaleSheet({
      ask: (_job, setup, asked) =>
        new Promise((done) => late.push(() => done(ok(scales(setup, asked))))),
    });
    const scale = meant('C major');
    const old = sheet.find(lap, scale, 1, view({ show: 'ladder', interval: 'octaves' }));
    const now = sheet.find(lap, scale, 1, view({ show: 'ladder', interval: 'thirds' }));
    late[1]?.();
    await now;
    const found = sheet.ladder;
    expect(found).toBeDefined();
    late[0]?.();
    await old;
    expect(sheet.ladder).toBe(found);
  });

  it('says so where no worker answers', async () => {
    const sheet = new ScaleSheet({
      ask: () => Promise.resolve(refuse('The search stopped.')),
    });
    await sheet.find(lap, meant('C major'), 1, view({ show: 'pockets' }));
    expect(sheet.failure).toBe('The search stopped.');
  });
});

describe('a run that is heard', () => {
  const steps = (() => {
    const texts = { scale: 'C major', neck: '1', interval: 'thirds', way: 'up' };
    const told = scales(lap, { what: 'ladder', texts });
    if (!told.ok || told.value.ladder === undefined) throw new Error('no ladder');
    return told.value.ladder.rungs.map(({ step }) => step);
  })();
  const last = steps.at(-1)?.onset;
  const seconds = (last?.seconds ?? 0) + (last?.lastsSeconds ?? 0);

  it('lasts as long as its steps, each due when it begins, so that it goes on in time when looped', () => {
    const once = passageOf(lap, steps).once(1);
    expect(once.length).toBeCloseTo(seconds);
    expect(once.due.map(({ at }) => at)).toEqual(steps.map(({ onset }) => onset.seconds));
    expect(once.due.map(({ index }) => index)).toEqual(steps.map((_, index) => index));
  });

  it('twice as fast takes half the time', () => {
    const once = passageOf(lap, steps).once(2);
    expect(once.length).toBeCloseTo(seconds / 2);
    expect(once.due[2]?.at).toBeCloseTo((steps[2]?.onset.seconds ?? 0) / 2);
  });

  it('says at which tempo it was laid out', () => {
    const first = steps[0]?.onset;
    expect(tempoOf(steps)).toBeCloseTo((60 * (first?.lasts ?? 0)) / (first?.lastsSeconds ?? 1));
  });
});

describe('what leads on', () => {
  it('is of the newest hold, and keeps what it had until then', async () => {
    const list = new LeadsOnList(poolOf(1, () => undefined));
    await list.ask(e9, hold('3/-/4-5-6'), 'G', '');
    expect(list.from?.fret).toBe(3);
    const before = list.answer;
    const asked = list.ask(e9, hold('8/-/4-5-6'), 'C', '');
    expect(list.answer).toBe(before);
    await asked;
    // common practice: A alone makes the relative minor
    expect(list.answer?.chords.find(({ of }) => of.numeral === 'vi')?.of.chord.symbol).toBe('Am');
    expect(list.from?.fret).toBe(8);
  });
});

describe('passages', () => {
  it('go from what is held to a chord, or from what was kept to what is held', async () => {
    const list = new PassageList(poolOf(1, () => undefined));
    const held = { hold: hold('8/-/4-5-6'), symbol: 'C' };
    expect(list.isReady(held)).toBe(false);
    list.goal = 'F';
    expect(list.isReady(held)).toBe(true);
    await list.find(e9, held, '');
    expect(list.found?.toChord?.symbol).toBe('F');
    list.goal = '';
    list.begin(held);
    expect(list.found).toBeUndefined();
    expect(list.isReady(held)).toBe(false);
    const there = { hold: hold('3/A,B/4-5-6'), symbol: 'C' };
    await list.find(e9, there, '');
    const ends = list.found?.passages.map(({ way }) => way.steps.at(-1)?.hold.fret);
    expect(new Set(ends)).toEqual(new Set([3]));
  });

  it('tells what of the goal cannot be read', async () => {
    const list = new PassageList(poolOf(1, () => undefined));
    list.goal = 'xyz';
    await list.find(e9, { hold: hold('8/-/4-5-6'), symbol: '' }, '');
    expect(list.fault).toContain('xyz');
    expect(list.found).toBeUndefined();
  });
});
