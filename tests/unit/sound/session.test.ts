/**
 * Strings and band on one clock, handed over bit by bit, against plain sums: where a round, a beat or a changed
 * tempo must lie is added up here step by step. The transport of the library is replaced by one that counts
 * its ticks through the tempos that it was told, as its documentation says that it does.
 */
import fc from 'fast-check';
import { beforeEach, expect, it, vi } from 'vitest';
import type { BandNote } from '$lib/playing/band/band';
import type { Levels } from '$lib/playing/band/levels';
import type { Action } from '$lib/rendering/actions';
import { Session, type Playing, type Round } from '$lib/sound/band/session';
import type { Along } from '$lib/sound/voice';
import { LONG, SEED } from '../../seed';
import { runs } from '../../battery';

const TICKS_A_BEAT = 192;
const AHEAD = 0.35;

/** Counts ticks through tempos; the clock of the context stands where it is put. */
class Transport {
  now = 0;
  readonly context = { outputLatency: 0, baseLatency: 0, currentTime: 0 };
  #tempos: { time: number; bpm: number }[] = [];
  #call: ((time: number) => void) | undefined;
  #every = 0;
  #begins = Infinity;
  #next = 0;

  readonly bpm = {
    cancelScheduledValues: () => (this.#tempos = []),
    setValueAtTime: (bpm: number, time: number) => {
      this.#tempos = [...this.#tempos.filter((each) => each.time < time), { time, bpm }];
    },
    getValueAtTime: (time: number) =>
      this.#tempos.findLast((each) => each.time <= time + 1e-9)?.bpm ?? NaN,
  };
  stop(): void {
    this.#begins = Infinity;
  }
  cancel(): void {
    this.#call = undefined;
  }
  clear(): void {
    this.#call = undefined;
  }
  scheduleRepeat(call: (time: number) => void, every: string): number {
    this.#call = call;
    this.#every = Number.parseInt(every);
    this.#next = 0;
    return 1;
  }
  start(time: number): void {
    this.#begins = time;
  }

  /** When so many ticks have gone by. */
  timeOf(ticks: number): number {
    let [left, time] = [ticks, this.#begins];
    for (;;) {
      const rate = (this.bpm.getValueAtTime(time) * TICKS_A_BEAT) / 60;
      const next = this.#tempos.find((each) => each.time > time + 1e-9)?.time ?? Infinity;
      if ((next - time) * rate >= left) return time + left / rate;
      left -= (next - time) * rate;
      time = next;
    }
  }

  /** The context's clock goes on; the page looks every so many seconds. */
  goTo(time: number, every = 0.05): void {
    while (this.context.currentTime < time) {
      this.context.currentTime += every;
      this.now = this.context.currentTime + AHEAD;
      for (;;) {
        const due = this.timeOf(this.#next * this.#every);
        if (this.#call === undefined || !(due < this.now)) break;
        this.#next++;
        this.#call(due);
      }
    }
  }
}

const fakes = vi.hoisted(
  (): {
    transport: unknown;
    heard: { note: unknown; at: number; lasts: number; now: number }[];
  } => ({
    transport: undefined,
    heard: [],
  }),
);
vi.mock('$lib/sound/band/clock', () => ({
  lookAhead: () => undefined,
  clockOn: () => {
    const transport = fakes.transport as Transport;
    return {
      transport,
      tone: { now: () => transport.now, immediate: () => transport.context.currentTime },
    };
  },
}));
vi.mock('$lib/sound/band/instruments', () => ({
  BandInstruments: class {
    output = undefined;
    play(note: unknown, at: number, lasts: number): void {
      const { currentTime: now } = (fakes.transport as Transport).context;
      fakes.heard.push({ note, at, lasts, now });
    }
    drone(): void {
      /* nothing drones */
    }
    end(): void {
      /* nothing sounds */
    }
  },
}));

let transport: Transport;
let strikes: { string: number; at: number }[];
let damps: { string: number; at: number }[];
beforeEach(() => {
  fakes.transport = transport = new Transport();
  transport.now = AHEAD;
  fakes.heard.length = 0;
  strikes = [];
  damps = [];
});

/** A click and a stroke at each of some places. */
const roundOf = (places: readonly number[], length: number, speed?: number): Round => ({
  length,
  actions: places.map((at, string): Action => ({
    ...{ does: 'strike', at, string: string + 1, hz: 440, level: 1, harmonic: false },
  })),
  band: () => places.map((at): BandNote => ({ part: 'click', at, lasts: 0.03, level: 1 })),
  ...(speed === undefined ? {} : { speed }),
});

function play(more: Partial<Playing> & Pick<Playing, 'round'>): Session {
  const along = {
    context: transport.context,
    join: () => undefined,
    add: (actions: readonly Action[]) => {
      for (const action of actions) {
        if (action.does === 'strike') strikes.push(action);
        if (action.does === 'damp') damps.push(action);
      }
    },
  } as unknown as Along;
  return new Session({
    ...{ along, referenceHz: 440, speed: 1, levels: {} as Levels, drone: [] },
    ...more,
  });
}
const clicks = (): number[] => fakes.heard.map(({ at }) => at);

it('strikes a string and its click at the very same moment, whatever the tempo does', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.001, max: 0.999, noNaN: true }), { minLength: 1, maxLength: 6 }),
      fc.array(fc.double({ min: 0.3, max: 4, noNaN: true }), { maxLength: 8 }),
      (shares, speeds) => {
        fakes.transport = transport = new Transport();
        transport.now = AHEAD;
        fakes.heard.length = 0;
        strikes = [];
        const places = shares.toSorted((a, b) => a - b).map((share) => share * 3);
        const session = play({ round: () => roundOf(places, 3) });
        speeds.forEach((speed, at) => {
          transport.goTo(1 + at);
          session.setSpeed(speed);
        });
        transport.goTo(speeds.length + 6);
        expect(strikes.map(({ at }) => at)).toEqual(clicks());
        // and nothing is left out, played twice or turned round
        expect(clicks()).toEqual(clicks().toSorted((a, b) => a - b));
        session.end();
      },
    ),
    { numRuns: runs(30), seed: SEED },
  );
});

it('never drifts: after ten minutes of rounds a click lies where the sum of the rounds says', () => {
  // no whole number of the transport's ticks
  const length = 2.3456789;
  const [tempo, minutes] = [1.37, LONG ? 60 : 10];
  play({ speed: tempo, round: () => roundOf([0], length) });
  transport.goTo(60 * minutes, 0.3);
  const all = clicks();
  const [first = NaN] = all;
  expect(all.length).toBeGreaterThan((60 * minutes * tempo) / length - 2);
  all.forEach((at, round) => {
    // a thousandth of a millisecond
    expect(Math.abs(at - first - (round * length) / tempo)).toBeLessThan(1e-6);
  });
});

it('goes on evenly in the new tempo from where it was changed', () => {
  const session = play({ round: () => roundOf([0], 0.5) });
  transport.goTo(4);
  const changed = transport.now;
  session.setSpeed(2);
  transport.goTo(8);
  const gaps = clicks().map((at, index, all) => at - (all[index - 1] ?? NaN));
  const before = gaps.filter((_, at) => (clicks()[at] ?? 0) <= changed).slice(1);
  const after = gaps.filter((_, at) => (clicks()[at - 1] ?? 0) > changed);
  for (const gap of before) expect(gap).toBeCloseTo(0.5, 6);
  for (const gap of after) expect(gap).toBeCloseTo(0.25, 6);
  expect(gaps).toHaveLength(before.length + after.length + 2);
});

it('takes a round at its own speed from its very beginning', () => {
  play({
    round: (number) => (number < 4 ? roundOf([0, 0.5], 1, number < 2 ? 1 : 1.25) : undefined),
  });
  transport.goTo(8);
  const [first = NaN] = clicks();
  // four beats of half a second, then of 0.4
  expect(clicks().map((at) => Math.round((at - first) * 1e6) / 1e6)).toEqual([
    0, 0.5, 1, 1.5, 2, 2.4, 2.8, 3.2,
  ]);
});

it('damps what rings where the next round begins, and lets the last round ring', () => {
  const ringing = {
    ...roundOf([0], 1),
    actions: [...roundOf([0], 1).actions, { does: 'damp' as const, at: 2.5, string: 1 }],
  };
  play({ round: (number) => (number < 2 ? ringing : undefined) });
  transport.goTo(5);
  const [first = NaN] = clicks();
  expect(damps.map(({ at }) => at - first)).toEqual([
    expect.closeTo(1, 6) as number,
    expect.closeTo(3.5, 6) as number,
  ]);
});

it('leaves out what comes too late after the page was kept busy, and is in its place again', () => {
  play({ round: () => roundOf([0], 0.5) });
  transport.goTo(3);
  const [first = NaN] = clicks();
  transport.goTo(4.5, 1.5);
  const late = transport.context.currentTime;
  transport.goTo(8);
  for (const at of clicks()) {
    const beats = (at - first) / 0.5;
    expect(Math.abs(beats - Math.round(beats))).toBeLessThan(1e-6);
  }
  expect(clicks().filter((at) => at > 3 + AHEAD && at < late - 0.01)).toEqual([]);
  // the library sounds at once what it cannot make in time: a fortieth of a second is left for that
  for (const { at, now } of fakes.heard) expect(at - now).toBeGreaterThan(0.025);
});

it('tells what is heard: the round, and the place in it', () => {
  const session = play({ speed: 2, round: (number) => (number < 3 ? roundOf([0], 1) : undefined) });
  expect(session.heard()).toBeUndefined();
  transport.goTo(0.4);
  const [first = NaN] = clicks();
  transport.goTo(first + 0.7, 0.01);
  const heard = session.heard();
  if (heard === undefined || heard === 'over') throw new Error('nothing is heard');
  expect(heard.round).toBe(1);
  expect(heard.at).toBeCloseTo((transport.context.currentTime - first) * 2 - 1, 6);
  transport.goTo(first + 4);
  expect(session.heard()).toBe('over');
});
