/**
 * Loudness as an ear weighs it: ITU-R BS.1770-4, annex 1, of one channel at 48 kHz, in LUFS. Blocks of 0.4 s that
 * overlap by three quarters, gated at −70 LUFS and ten below the mean of the rest.
 */

type Coefficients = readonly [number, number, number, number, number];
/** Table 1, the head; table 2, low tones: b0, b1, b2, a1, a2. */
const HEAD: Coefficients = [
  1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585,
];
const LOW: Coefficients = [1, -2, 1, -1.99004745483398, 0.99007225036621];

function filtered(sound: Float32Array, [b0, b1, b2, a1, a2]: Coefficients): Float32Array {
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return sound.map((x) => {
    const y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
    [x1, x2, y1, y2] = [x, x1, y, y1];
    return y;
  });
}

const mean = (all: readonly number[]): number =>
  all.reduce((sum, each) => sum + each, 0) / all.length;
const lufs = (power: number): number => -0.691 + 10 * Math.log10(power);

/** Of a sound at 48 kHz; −Infinity of silence. */
export function loudnessOf(sound: Float32Array): number {
  const weighted = filtered(filtered(sound, HEAD), LOW);
  const blocks: number[] = [];
  for (let from = 0; from + 19_200 <= weighted.length; from += 4800) {
    const block = weighted.subarray(from, from + 19_200);
    blocks.push(block.reduce((sum, each) => sum + each * each, 0) / block.length);
  }
  const loud = blocks.filter((each) => lufs(each) > -70);
  const least = mean(loud) / 10;
  return loud.length === 0 ? -Infinity : lufs(mean(loud.filter((each) => each > least)));
}
