/** Blocks of what is heard: sample after sample in its place, also where an audio thread skipped some. */
import { expect, it } from 'vitest';
import { GaplessBlocks, type HeardBlock } from '$lib/sound/gaplessBlocks';

const RATE = 48_000;

/** Sound that tells its own frame, from one to another. */
const frames = (from: number, to: number): Float32Array =>
  Float32Array.from({ length: to - from }, (_, i) => from + i);

it('what was skipped is silent, and what comes after it keeps its time', () => {
  const blocks: HeardBlock[] = [];
  const gapless = new GaplessBlocks(RATE, (block) => blocks.push(block));
  // it begins at frame 896 of the clock; 512 frames are skipped, as by a thread that begins
  for (let frame = 896; frame < 896 + 20 * 128; frame += 128)
    if (frame < 1280 || frame >= 1792) gapless.add(frames(frame, frame + 128), frame);
  expect(blocks.map(({ at }) => Math.round(at * RATE))).toEqual([896, 1920]);
  blocks.forEach(({ samples, at }) =>
    samples.forEach((sample, i) => {
      const frame = Math.round(at * RATE) + i;
      expect(sample).toBe(frame >= 1280 && frame < 1792 ? 0 : frame);
    }),
  );
});

it('after a long sleep it begins anew where the clock stands', () => {
  const blocks: HeardBlock[] = [];
  const gapless = new GaplessBlocks(RATE, (block) => blocks.push(block));
  gapless.add(frames(0, 128), 0);
  gapless.add(frames(0, 1024), 60 * RATE);
  expect(blocks.map(({ at }) => at)).toEqual([60]);
});
