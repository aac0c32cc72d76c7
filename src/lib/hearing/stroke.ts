/** Where in a sound the strings are struck. */

/** Seconds of a stretch whose level is looked at. */
const STRETCH_S = 0.01;
/** A stroke is where it is first so loud against the loudest stretch. */
const LOUD = 0.1;

/** The sample at which something begins to sound, from the first that is loud; 0 where nothing is. */
export function strokeAt(samples: Float32Array, sampleRate: number): number {
  const size = Math.max(1, Math.round(STRETCH_S * sampleRate));
  const levels = Array.from({ length: Math.floor(samples.length / size) }, (_, index) => {
    let sum = 0;
    for (let i = index * size; i < (index + 1) * size; i++) sum += (samples[i] as number) ** 2;
    return Math.sqrt(sum / size);
  });
  const loudest = levels.reduce((most, each) => Math.max(most, each), 0);
  return (
    size *
    Math.max(
      0,
      levels.findIndex((level) => level > LOUD * loudest),
    )
  );
}
