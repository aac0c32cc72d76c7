/**
 * What is played goes to an instrument outside. The receiver here knows MPE as its standard has it (MIDI
 * Polyphonic Expression 1.0, RP-053; MIDI 1.0): it sums up bytes, read by `jzz`, to what would sound. Expected
 * pitches are worked out by hand.
 */
import JZZ from 'jzz';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createMpeReceiver } from '$lib/midi/mpeReceiver';
import { createOutputs } from '$lib/midi/outputs';
import type { MidiAccess, MidiOutput } from '$lib/midi/access';
import { actionsOf } from '$lib/rendering/actions';
import type { ScheduledNote } from '$lib/playing/schedule';
import { hzOf } from '$lib/theory/pitch';

interface Sent {
  readonly ms: number;
  readonly bytes: readonly number[];
}

/** An instrument that can be plugged in; what has no time on it is due when it comes. */
class Instrument implements MidiOutput {
  readonly name = 'Reeds';
  state = 'connected';
  readonly sent: Sent[] = [];
  send(bytes: readonly number[], ms = performance.now()): void {
    if (this.state === 'disconnected') throw new DOMException('gone', 'InvalidStateError');
    this.sent.push({ ms: Math.max(ms, performance.now()), bytes });
  }
  /** As an MPE receiver understands it. */
  get heard(): Heard {
    return heardBy(this.sent);
  }
}

interface Heard {
  /** Members of the lower zone. */
  readonly members: number;
  /** By channel, from 1: semitones each way. */
  readonly ranges: ReadonlyMap<number, number>;
  /** Key with its bend, whenever one of them changes; nothing where it falls silent. */
  readonly pitches: readonly { ms: number; channel: number; pitch: number | undefined }[];
  readonly stillOn: number;
}

/** Reads the bytes in order of time. */
function heardBy(sent: readonly Sent[]): Heard {
  let members = 0;
  const ranges = new Map<number, number>();
  const chosen = new Map<number, [number, number]>();
  const keys = new Map<number, number>();
  const bends = new Map<number, number>();
  const pitches: { ms: number; channel: number; pitch: number | undefined }[] = [];
  const ordered = sent.map((each, order) => ({ ...each, order }));
  for (const { ms, bytes } of ordered.sort((a, b) => a.ms - b.ms || a.order - b.order)) {
    const message = JZZ.MIDI([...bytes]);
    const channel = message.getChannel() + 1;
    const [, first = 0, second = 0] = bytes;
    const tell = (): void => {
      const key = keys.get(channel);
      const bent = ((bends.get(channel) ?? 0) / 8192) * (ranges.get(channel) ?? 2);
      pitches.push({ ms, channel, pitch: key === undefined ? undefined : key + bent });
    };
    if (message.isNoteOn()) {
      keys.set(channel, message.getNote());
      tell();
    } else if (message.isNoteOff()) {
      if (keys.get(channel) !== message.getNote()) continue;
      keys.delete(channel);
      tell();
    } else if ((bytes[0] ?? 0) >> 4 === 0xe) {
      bends.set(channel, first + 128 * second - 8192);
      if (keys.has(channel)) tell();
    } else if (first === 123) keys.delete(channel);
    else if (first === 101) chosen.set(channel, [second, 127]);
    else if (first === 100) chosen.set(channel, [chosen.get(channel)?.[0] ?? 127, second]);
    else if (first === 6) {
      const [high, low] = chosen.get(channel) ?? [127, 127];
      if (high === 0 && low === 6 && channel === 1) members = second;
      if (high === 0 && low === 6) ranges.clear();
      if (high === 0 && low === 0) ranges.set(channel, second);
    }
  }
  return { members, ranges, pitches, stillOn: keys.size };
}

/** The audio clock began when the page was 1000 ms old, and is heard 20 ms late. */
const moment = () => ({ seconds: (performance.now() - 1020) / 1000, ms: performance.now() });

const play = (notes: readonly ScheduledNote[], { at = 1, vibrato = false, hz = 440 } = {}) => ({
  say: 'play' as const,
  actions: actionsOf(notes, { referenceHz: hz, vibrato }),
  at,
});
/** Seconds of the audio clock at which a page's time is heard. */
const heardAt = (ms: number): number => (ms - 1020) / 1000;

beforeEach(() => {
  vi.useFakeTimers({ now: 0, toFake: ['setInterval', 'clearInterval', 'performance'] });
  vi.advanceTimersByTime(2000);
});
afterEach(() => {
  vi.useRealTimers();
});

describe('an instrument that is played along', () => {
  it('is set up as one zone, bends by 48 semitones, and is silent before anything is played', () => {
    const reeds = new Instrument();
    createMpeReceiver(reeds);
    const { members, ranges, pitches, stillOn } = reeds.heard;
    expect([members, pitches, stillOn]).toEqual([15, [], 0]);
    expect([...ranges.keys()].sort((a, b) => a - b)).toEqual(
      Array.from({ length: 15 }, (_, at) => at + 2),
    );
    expect(new Set(ranges.values())).toEqual(new Set([48]));
  });

  it('strikes, bends and damps each string on its own channel when ours is heard to', () => {
    const reeds = new Instrument();
    const receiver = createMpeReceiver(reeds);
    // G♯4 stays; B3 is pulled up a tone from 0.5 s on, within a tenth of a second
    receiver.take(
      play([
        { string: 3, midi: 68, at: 0, duration: 1 },
        { string: 5, midi: 59, at: 0.1, duration: 0.9, glides: [{ at: 0.5, over: 0.1, to: 61 }] },
      ]),
      moment,
    );
    vi.advanceTimersByTime(3000);
    const { pitches, stillOn } = reeds.heard;
    const times = (string: number) => pitches.filter(({ channel }) => channel === string + 1);
    expect(times(3).map(({ ms, pitch }) => [heardAt(ms), pitch])).toEqual([
      [expect.closeTo(1, 6), 68],
      [expect.closeTo(2, 6), undefined],
    ]);
    const bent = times(5);
    expect([heardAt(bent[0]?.ms ?? 0), bent[0]?.pitch]).toEqual([expect.closeTo(1.1, 6), 59]);
    const way = bent.slice(1, -1);
    expect(way.length).toBeGreaterThan(8);
    for (const { ms } of way) {
      expect(heardAt(ms)).toBeGreaterThan(1.5);
      expect(heardAt(ms)).toBeLessThan(1.6001);
    }
    const values = way.map(({ pitch }) => pitch ?? NaN);
    expect(values).toEqual(values.toSorted((a, b) => a - b));
    // 8192 / 48 steps a semitone: within half a step
    expect(values.at(-1)).toBeCloseTo(61, 2);
    expect(bent.at(-1)?.pitch).toBeUndefined();
    expect(stillOn).toBe(0);
  });

  it('sounds as the setup is tuned, by the reference that it has', () => {
    const reeds = new Instrument();
    // 14 cents flat over A = 442 Hz: 1200 · log2(442 / 440) is 7.85 cents sharp
    createMpeReceiver(reeds).take(
      play([{ string: 1, midi: 68.86, at: 0, duration: 1 }], { hz: 442 }),
      moment,
    );
    vi.advanceTimersByTime(500);
    expect(reeds.heard.pitches[0]?.pitch).toBeCloseTo(68.86 + 0.0785, 2);
  });

  it('follows hands that move while it sounds, and rings on as ours does', () => {
    const reeds = new Instrument();
    const receiver = createMpeReceiver(reeds);
    receiver.take(play([{ string: 4, midi: 64, at: 0, duration: 0.5 }]), moment);
    vi.advanceTimersByTime(300);
    const to = [{ string: 4, hz: hzOf(66) }];
    receiver.take({ say: 'bend', to, over: 0.1, by: 'pull', hold: 4 }, moment);
    vi.advanceTimersByTime(1500);
    expect(reeds.heard.pitches.at(-1)?.pitch).toBeCloseTo(66, 2);
    vi.advanceTimersByTime(3500);
    expect(reeds.heard.stillOn).toBe(0);
  });

  it('rolls the bar to both sides of the pitch where that is chosen', () => {
    const reeds = new Instrument();
    const notes = [{ string: 4, midi: 64, at: 0, duration: 3 }];
    createMpeReceiver(reeds).take(play(notes, { vibrato: true }), moment);
    vi.advanceTimersByTime(2500);
    const values = reeds.heard.pitches.map(({ pitch }) => pitch ?? 64);
    expect(Math.max(...values)).toBeGreaterThan(64.1);
    expect(Math.min(...values)).toBeLessThan(63.9);
  });

  it.each([1, 15, 33, 90, 400])('stops clean %i ms after a play, whatever is on its way', (ms) => {
    const reeds = new Instrument();
    const receiver = createMpeReceiver(reeds);
    const notes = [1, 2, 3, 4, 5].map((string) => ({
      ...{ string, midi: 60 + string, at: string * 0.02, duration: 5 },
    }));
    receiver.take(play(notes, { at: moment().seconds }), moment);
    vi.advanceTimersByTime(ms);
    receiver.take({ say: 'stop' }, moment);
    const count = reeds.sent.length;
    vi.advanceTimersByTime(6000);
    expect(reeds.sent.length).toBe(count);
    expect(reeds.heard.stillOn).toBe(0);
    // none but what was sent ahead is struck, and within its 40 ms
    const struck = reeds.heard.pitches.filter(({ pitch }) => pitch !== undefined);
    for (const each of struck) expect(each.ms).toBeLessThanOrEqual(2000 + ms + 40);
  });

  it('another chord takes the place of the one before, and nothing of it is left', () => {
    const reeds = new Instrument();
    const receiver = createMpeReceiver(reeds);
    receiver.take(play([{ string: 3, midi: 68, at: 0, duration: 9 }], { at: 0.99 }), moment);
    vi.advanceTimersByTime(200);
    receiver.take(
      play([{ string: 4, midi: 64, at: 0, duration: 1 }], { at: moment().seconds + 0.04 }),
      moment,
    );
    vi.advanceTimersByTime(500);
    const on = new Map(reeds.heard.pitches.map(({ channel, pitch }) => [channel, pitch]));
    expect([on.get(4), on.get(5)]).toEqual([undefined, 64]);
  });

  it('that is pulled out while it sounds breaks nothing', () => {
    const reeds = new Instrument();
    const receiver = createMpeReceiver(reeds);
    receiver.take(play([{ string: 3, midi: 68, at: 0, duration: 1 }]), moment);
    reeds.state = 'disconnected';
    expect(() => vi.advanceTimersByTime(2000)).not.toThrow();
  });
});

describe('what can be played', () => {
  class Plugged implements MidiAccess {
    readonly inputs = new Map();
    readonly outputs = new Map<string, MidiOutput>([['a', new Instrument()]]);
    onstatechange: ((event: never) => unknown) | null = null;
  }
  it('is asked for when it is opened, told by name, and let go', async () => {
    const asked: unknown[] = [];
    const outputs = createOutputs({
      requestMIDIAccess: (options) => {
        asked.push(options);
        return Promise.resolve(new Plugged());
      },
    });
    expect([asked, outputs.list()]).toEqual([[], []]);
    await outputs.open();
    expect([asked, outputs.list()]).toEqual([[{ sysex: false }], [['a', 'Reeds']]]);
    outputs.close();
    expect([outputs.list(), outputs.output('a')]).toEqual([[], undefined]);
  });
  it('a browser that has none says so', async () => {
    const none = await createOutputs({}).open();
    expect(none.ok ? '' : none.error).toMatch(/^This browser has no Web MIDI/);
  });
});
