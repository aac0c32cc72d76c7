/** A click to play to, in the microphone's own clock, so that strokes can be held against it exactly. */
import { playsThrough } from './played';

/** Seconds that are put down ahead: more than a page that is busy falls behind. */
const AHEAD_S = 0.6;
const EVERY_MS = 150;
/** Seconds from the start to the first click. */
const FIRST_S = 0.3;
/** Seconds that a click sounds. */
const SOUNDS_S = 0.03;
const HZ = 1500;

export interface Click {
  /** When clicks were due to leave the program, in seconds of the context's clock. */
  readonly beats: readonly number[];
  /** 0 (silent) to 1. */
  setLevel(level: number): void;
  stop(): void;
}

/** Clicks at so many beats a minute until it is stopped. */
export function startClick(context: AudioContext, tempo: number, level: number): Click {
  const out = context.createGain();
  // the ear counts in ratios
  out.gain.value = 0.5 * level ** 2;
  out.connect(context.destination);
  const silent = playsThrough(out);
  const beats: number[] = [];
  const first = context.currentTime + FIRST_S;
  const put = (): void => {
    for (;;) {
      const at = first + (beats.length * 60) / tempo;
      if (at > context.currentTime + AHEAD_S) return;
      const tone = context.createOscillator();
      const shape = context.createGain();
      tone.frequency.value = HZ;
      shape.gain.setValueAtTime(1, at);
      shape.gain.exponentialRampToValueAtTime(0.001, at + SOUNDS_S);
      tone.connect(shape).connect(out);
      tone.start(at);
      tone.stop(at + SOUNDS_S);
      beats.push(at);
    }
  };
  put();
  const timer = setInterval(put, EVERY_MS);
  return {
    beats,
    setLevel(to) {
      out.gain.value = 0.5 * to ** 2;
    },
    stop() {
      clearInterval(timer);
      silent();
      out.disconnect();
    },
  };
}
