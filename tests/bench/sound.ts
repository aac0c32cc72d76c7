/** `npm run bench`: how much faster than it sounds the instrument is computed, and a block of it. */
import { actionsOf } from '$lib/rendering/actions';
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import { renderNotes } from '$lib/rendering/renderSound';
import type { ScheduledNote } from '$lib/playing/schedule';
import { medians, ms, print } from './measure';

const RATE = 48_000;
/** What a browser asks for at a time. */
const BLOCK = 128;
const BLOCK_MS = (1000 * BLOCK) / RATE;

/** Strings from C2 up, all of them bent in every second, so that nothing rests. */
const notes = (strings: number, seconds: number): ScheduledNote[] =>
  Array.from({ length: strings }, (_, place) => {
    const midi = 36 + 3 * place;
    const glides = Array.from({ length: seconds }, (_, second) => ({
      at: second + 0.5,
      over: 0.09,
      to: midi + (second % 2 === 0 ? 2 : 0),
    }));
    return { string: place + 1, midi, at: 0, duration: seconds, glides };
  });

export async function sound(): Promise<void> {
  console.log('Computing the sound (48 kHz, with body, room and limiter)');
  const rows: string[][] = [];
  for (const strings of [1, 4, 10, 14]) {
    const took = await medians(
      { second: () => renderNotes(notes(strings, 2), { referenceHz: 440, tail: 0 }) },
      1500,
    );
    const second = (took.get('second') ?? NaN) / 2;
    const { middle, slow } = blocksOf(strings);
    rows.push([
      `${strings} ${strings === 1 ? 'string' : 'strings'}`,
      ms(second),
      `${(1000 / second).toFixed(0)} ×`,
      `${(1000 * middle).toFixed(0)} µs`,
      `${(1000 * slow).toFixed(0)} µs`,
      `${((100 * middle) / BLOCK_MS).toFixed(1)} %`,
    ]);
  }
  print(
    ['', 'a second of sound', 'of real time', 'a block, median', '99 of 100 within', 'of its time'],
    rows,
  );
  console.log(
    `A block is ${BLOCK} samples, ${BLOCK_MS.toFixed(2)} ms. Wanted: 14 strings within a tenth of it here, so that a phone has room.\n`,
  );
}

/** Milliseconds of a block while all strings ring, one by one as the audio thread asks for them. */
function blocksOf(strings: number): { readonly middle: number; readonly slow: number } {
  const instrument = new PlayedInstrument(RATE);
  instrument.play(actionsOf(notes(strings, 8), { referenceHz: 440 }));
  const left = new Float32Array(BLOCK);
  const right = new Float32Array(BLOCK);
  const took: number[] = [];
  for (let time = 0; time < 7; time += BLOCK / RATE) {
    const begun = performance.now();
    instrument.process(left, right, time);
    if (time > 1) took.push(performance.now() - begun);
  }
  took.sort((a, b) => a - b);
  const at = (share: number): number => took[Math.floor(share * took.length)] ?? NaN;
  return { middle: at(0.5), slow: at(0.99) };
}
