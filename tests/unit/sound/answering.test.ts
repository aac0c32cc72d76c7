/** Play where no sound device answers: within two seconds of the player's time there is a sentence. */
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { NO_ANSWER } from '$lib/sound/answering';
import { createVoice, type Voice } from '$lib/sound/voice';

/** What a device, or a browser without one, does. */
interface Device {
  /** Resuming succeeds. */
  wakes: boolean;
  /** The program of the audio thread comes. */
  loads: boolean;
  /** The clock goes. */
  ticks: boolean;
}
const GOOD: Device = { wakes: true, loads: true, ticks: true };
let device: Device;

const never = (): Promise<never> => new Promise(() => undefined);
const node = { connect: <T>(to: T): T => to, disconnect: () => undefined };

class Context {
  state = 'suspended';
  readonly destination = node;
  readonly baseLatency = 0.01;
  readonly #began = Date.now();
  readonly audioWorklet = {
    addModule: (): Promise<void> => (device.loads ? Promise.resolve() : never()),
  };
  get currentTime(): number {
    return device.ticks ? (Date.now() - this.#began) / 1000 : 0;
  }
  resume(): Promise<void> {
    if (!device.wakes) return never();
    this.state = 'running';
    return Promise.resolve();
  }
  suspend(): Promise<void> {
    this.state = 'suspended';
    return Promise.resolve();
  }
  close(): Promise<void> {
    this.state = 'closed';
    return Promise.resolve();
  }
}

let voice: Voice;
let sounding: ReadonlySet<number>;
const GRIP = [{ string: 3, midi: 60, at: 0, duration: 1, velocity: 1 }];

/** What is said to a press within two seconds. */
async function press(): Promise<string> {
  let said = 'nothing';
  void voice.play(GRIP as Parameters<Voice['play']>[0], { referenceHz: 440 }).then((played) => {
    said = played.ok ? 'ok' : played.error;
  });
  await vi.advanceTimersByTimeAsync(2000);
  return said;
}

beforeAll(async () => {
  // fetched before the clock is held
  await import('$lib/sound/audioOutput');
});
beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('AudioContext', Context);
  vi.stubGlobal('AudioWorkletNode', function () {
    return { ...node, port: { postMessage: () => undefined } };
  });
  vi.stubGlobal('GainNode', function () {
    return { ...node, gain: { setTargetAtTime: () => undefined } };
  });
  voice = createVoice();
  voice.onsounding = (strings) => {
    sounding = strings;
  };
  sounding = new Set();
});
afterEach(() => {
  voice.dispose();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('where no sound device answers', () => {
  it.each<[string, Device]>([
    ['nothing ever comes', { wakes: false, loads: false, ticks: false }],
    ['the context never runs', { wakes: false, loads: true, ticks: true }],
    ['the clock stands still', { wakes: true, loads: true, ticks: false }],
    [
      'the clock stands still and the program never comes',
      { wakes: true, loads: false, ticks: false },
    ],
  ])('%s: it is said, and the next press tries anew', async (_what, bad) => {
    device = bad;
    expect(await press()).toBe(NO_ANSWER);
    expect(sounding.size).toBe(0);
    expect(voice.elapsed()).toBeUndefined();
    device = GOOD;
    expect(await press()).toBe('ok');
  });

  it('any more: it is said at the press after that', async () => {
    device = GOOD;
    expect(await press()).toBe('ok');
    await vi.advanceTimersByTimeAsync(3000);
    device = { ...GOOD, ticks: false };
    expect(await press()).toBe(NO_ANSWER);
    expect(sounding.size).toBe(0);
    device = GOOD;
    expect(await press()).toBe('ok');
  });

  it('the sentence says what to do', () => {
    expect(NO_ANSWER).toMatch(/no sound device answers.*connected.*Play once more\.$/u);
  });
});
