/**
 * The delay from loudspeaker to microphone: a burst goes out, and is found again in what is heard. It is
 * measured in one clock, that of the microphone's context.
 */
import { CLEAR, echoOf } from '$lib/hearing/echo';
import { noiseBurst } from '$lib/hearing/noiseBurst';
import { SoundRing } from '$lib/hearing/ring';
import { ok, refuse, type Result } from '$lib/result';
import { createMicrophone, type Microphone } from './microphone';

/** The longest that is believed, in milliseconds: half a second, as of wireless headphones. */
export const LONGEST_MS = 500;
/** Bursts that are sent: their middle is taken. */
const BURSTS = 3;
/** Seconds from one burst to the next, and before the first. */
const APART_S = 0.8;
const BEFORE_S = 0.4;
/** As loud as a burst is: a tenth of full scale. */
const LEVEL = 0.1;
/** Bursts that disagree by more, in milliseconds, say nothing. */
const AGREE_MS = 3;

/** The delay of bursts that were due at some seconds of a sound, in milliseconds; refused with a sentence. */
export function delayIn(
  heard: (from: number, to: number) => Float32Array,
  dues: readonly number[],
  sampleRate: number,
): Result<number, string> {
  const burst = noiseBurst();
  const found = dues.flatMap((due) => {
    const from = Math.round(due * sampleRate);
    const sound = heard(from, from + burst.length + Math.round((LONGEST_MS / 1000) * sampleRate));
    const echo = echoOf(burst, sound);
    return echo === undefined || echo.clear < CLEAR ? [] : [(1000 * echo.at) / sampleRate];
  });
  const middle = [...found].sort((a, b) => a - b)[found.length >> 1];
  if (middle === undefined)
    return refuse(
      'The microphone did not hear the bursts. Turn the loudspeaker up a little, take headphones off the jack or hold one to the microphone, and measure again.',
    );
  const agree = found.filter((each) => Math.abs(each - middle) <= AGREE_MS);
  if (agree.length < 2)
    return refuse('The bursts came back at different times. Let it be quiet, and measure again.');
  return ok(agree.reduce((sum, each) => sum + each, 0) / agree.length);
}

/** Sends bursts and finds them again: milliseconds, refused with a sentence. It takes three seconds. */
export async function measureDelay(
  microphone: Microphone = createMicrophone(),
): Promise<Result<number, string>> {
  const opened = await microphone.open();
  if (!opened.ok) return opened;
  try {
    const { context, sampleRate } = microphone;
    if (context === undefined) return refuse('The microphone was shut. Measure again.');
    const all = BEFORE_S + BURSTS * APART_S;
    const ring = new SoundRing(Math.round((all + 2) * sampleRate));
    let began: number | undefined;
    microphone.onsound = ({ samples, at }) => {
      began ??= at;
      ring.push(samples);
    };
    const burst = noiseBurst();
    const sound = context.createBuffer(1, burst.length, sampleRate);
    sound.copyToChannel(
      burst.map((each) => LEVEL * each),
      0,
    );
    const starts = Array.from(
      { length: BURSTS },
      (_, at) => context.currentTime + BEFORE_S + at * APART_S,
    );
    for (const at of starts) {
      const source = context.createBufferSource();
      source.buffer = sound;
      source.connect(context.destination);
      source.start(at);
    }
    await new Promise((done) => setTimeout(done, (all + LONGEST_MS / 1000) * 1000));
    const from = began;
    if (from === undefined) return refuse('The microphone gives no sound at all.');
    return delayIn(
      (begin, end) => ring.slice(begin, end),
      starts.map((at) => at - from),
      sampleRate,
    );
  } finally {
    microphone.close();
  }
}
