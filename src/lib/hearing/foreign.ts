/** A note that was not expected: what is left when the strings are taken away, if it makes a note. */
import {
  listenedAt,
  partialHz,
  HIGHEST_HZ,
  WITHIN_CENTS,
  centsBetween,
  type Listened,
} from './grip';
import { stiffCents, USUAL_STIFFNESS } from './law';
import { sizeAt, type Spectrum } from './spectrum';

/** Notes that are looked for, as MIDI numbers: B1 to E6. */
const LOWEST = 35;
const HIGHEST = 88;
/** Partials that are looked at. */
const PARTIALS = 6;
/** A string that sounds is no other note as far as this from it, in cents. */
const SAME_CENTS = 80;
/** Cents from one try to the next. */
const STEP = 5;
/** What lies so near to a string's partial, in bins, may be what its fit left. */
const MASKED_BINS = 3;

/** Lines that the strings' own partials may have left something on. */
function masked(spectrum: Spectrum, strings: readonly Listened[]): Uint8Array {
  const mask = new Uint8Array(spectrum.re.length);
  const reach = MASKED_BINS / spectrum.seconds;
  for (const string of strings) {
    if (!string.there) continue;
    for (let number = 1; number * string.hz < HIGHEST_HZ; number++) {
      const hz = partialHz(string, number);
      const from = Math.max(0, Math.floor((hz - reach) / spectrum.lineHz));
      const to = Math.min(mask.length - 1, Math.ceil((hz + reach) / spectrum.lineHz));
      mask.fill(1, from, to + 1);
    }
  }
  return mask;
}

/** The note that the rest of a spectrum holds most of, as a string to be listened for. */
export function likeliestForeign(
  rest: Spectrum,
  strings: readonly Listened[],
  a4Hz: number,
): { readonly midi: number; readonly string: Listened } | undefined {
  const mask = masked(rest, strings);
  let best = 0;
  let found: { readonly midi: number; readonly string: Listened } | undefined;
  for (let midi = LOWEST; midi <= HIGHEST; midi++) {
    const hz = a4Hz * 2 ** ((midi - 69) / 12);
    for (let cents = -WITHIN_CENTS; cents < WITHIN_CENTS; cents += STEP) {
      let score = 0;
      let seen = 0;
      for (let number = 1; number <= PARTIALS; number++) {
        const at = number * hz * 2 ** ((cents + stiffCents(USUAL_STIFFNESS, number)) / 1200);
        if (mask[Math.round(at / rest.lineHz)] !== 0) continue;
        seen += 1;
        score += Math.sqrt(sizeAt(rest, at) / number);
      }
      if (seen < 3 || score <= best) continue;
      const at = hz * 2 ** (cents / 1200);
      const same = strings.some(
        (string) =>
          string.there &&
          Math.abs(centsBetween(string.hz * 2 ** (string.law.cents / 1200), at)) < SAME_CENTS,
      );
      if (same) continue;
      best = score;
      found = { midi, string: listenedAt(hz, cents) };
    }
  }
  return found;
}
