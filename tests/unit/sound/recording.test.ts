/** Takes: what is recorded, mixed and kept, with stand-ins for nodes and for the device's store. */
import { expect, it } from 'vitest';
import { refuse, ok } from '$lib/result';
import { Recording, fromInts, mixed } from '$lib/sound/recording';
import { delayIn } from '$lib/storage/delay';
import { notKept, type KeptTake, type TakeStore } from '$lib/storage/takes';
import { Takes } from '$lib/ui/hearing/takes.svelte';

const RATE = 1000;

it('a take holds what was heard, and a mix brings what was played as late as it was heard', () => {
  const recording = new Recording(RATE, () => 5);
  recording.heard({ samples: Float32Array.of(0, 0.5, -0.5), at: 4 });
  recording.heard({ samples: Float32Array.of(2, 0, 0), at: 4.003 });
  const recorded = recording.finish();
  expect([recorded.began, recorded.sampleRate, recorded.band]).toEqual([4, RATE, undefined]);
  // 16 bits: a step is 1/32767; beyond full scale is cut
  const heard = fromInts(recorded.heard);
  [0, 0.5, -0.5, 1, 0, 0].forEach((each, at) => expect(heard[at]).toBeCloseTo(each, 4));
  const band = Int16Array.of(3277, 0, 0, 0, 0, 0);
  const both = mixed({ ...recorded, band }, 0.002);
  [0, 0.5, -0.4, 1, 0, 0].forEach((each, at) => expect(both[at]).toBeCloseTo(each, 3));
});

/** A store that may be full. */
function storeOf(): TakeStore & { full: boolean; readonly kept: Map<string, KeptTake> } {
  const kept = new Map<string, KeptTake>();
  const quota = Object.assign(new Error('full'), { name: 'QuotaExceededError' });
  const store = {
    full: false,
    kept,
    all: () => Promise.resolve(ok([...kept.values()])),
    keep: (take: KeptTake) => {
      if (store.full) return Promise.resolve(refuse(notKept(quota)));
      kept.set(take.id, take);
      return Promise.resolve(ok(undefined));
    },
    remove: (id: string) => {
      kept.delete(id);
      return Promise.resolve(ok(undefined));
    },
  };
  return store;
}

const asked = (...strings: readonly number[]) =>
  strings.map((string) => ({
    string,
    midi: 60,
    note: `C${string}`,
    hz: 100 + string,
    lengthMm: 600,
  }));

async function recorded(takes: Takes): Promise<void> {
  const recording = new Recording(RATE, () => 0);
  takes.begin(recording);
  takes.asks(asked(4), 10);
  takes.heard({ samples: new Float32Array(3000), at: 10 });
  await takes.finish('Fret 8', 440, [9.5, 10.5, 11.5, 30]);
}

it('a take is kept with its clicks, deleted, and restored', async () => {
  const store = storeOf();
  const takes = new Takes(store);
  await takes.read();
  expect(store.kept.size).toBe(0);
  await recorded(takes);
  const [listed] = takes.list;
  if (listed === undefined) throw new Error('no take');
  expect([listed.kept, listed.take.beats]).toEqual([true, [-0.5, 0.5, 1.5]]);
  await takes.remove(listed);
  expect([takes.list.length, store.kept.size]).toEqual([0, 0]);
  await takes.restore();
  expect([takes.list.length, store.kept.size]).toEqual([1, 1]);
});

it('where the device is full it says so, and nothing is lost', async () => {
  const store = storeOf();
  const takes = new Takes(store);
  await recorded(takes);
  store.full = true;
  await recorded(takes);
  expect(takes.trouble).toMatch(/no room left.*save it as a file/);
  expect(takes.list.map(({ kept }) => kept)).toEqual([false, true]);
  await takes.read();
  expect(takes.list).toHaveLength(2);
  store.full = false;
  const [waiting] = takes.list;
  if (waiting !== undefined) await takes.keepNow(waiting);
  expect([takes.trouble, store.kept.size]).toEqual(['', 2]);
});

it('a take keeps what was asked of the player, and from when on; a little early is meant for what comes', async () => {
  const takes = new Takes(storeOf());
  takes.begin(new Recording(RATE, () => 0));
  takes.asks(asked(3, 4), 10);
  takes.heard({ samples: new Float32Array(3 * RATE), at: 10 });
  takes.asks(asked(3, 4), 11);
  takes.asks(asked(4, 5), 12);
  await takes.finish('Fret 8', 440, []);
  const { strings, later } = takes.list[0]?.take ?? {};
  expect(strings?.map(({ string }) => string)).toEqual([3, 4]);
  expect(later?.map((grip) => [grip.from, grip.strings.map(({ string }) => string)])).toEqual([
    [expect.closeTo(1.88, 6), [4, 5]],
  ]);
});

it('a take keeps what the band played in it, and is none the worse without', async () => {
  const takes = new Takes(storeOf());
  takes.begin(new Recording(RATE, () => 0));
  // a second each: the first note ends after two, the other is heard again later
  for (const [second, band] of [[55], [55, 110], [110], [], [110]].entries())
    takes.heard({ samples: new Float32Array(RATE), at: 10 + second }, band);
  await takes.finish('Fret 8', 440, []);
  expect(takes.list[0]?.take.bandNotes).toEqual([
    { hz: 55, from: 0, until: 2 },
    { hz: 110, from: 1, until: 3 },
    { hz: 110, from: 4, until: 5 },
  ]);
  await recorded(takes);
  expect(takes.list[0]?.take).not.toHaveProperty('bandNotes');
});

it('a take that nothing was heard in is none', async () => {
  const takes = new Takes(storeOf());
  takes.begin(new Recording(RATE, () => 0));
  await takes.finish('Fret 8', 440, []);
  expect(takes.list).toEqual([]);
});

it('a delay is read as it is written', () => {
  expect(['35', ' 12,5 ', '0', '', 'x', '-1', '501'].map(delayIn)).toEqual([
    ...[35, 12.5, 0],
    ...[undefined, undefined, undefined, undefined],
  ]);
});
