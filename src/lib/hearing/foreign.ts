/**
 * Notes that were not expected: what is left when the strings are taken away, and what a band plays, if it makes
 * a note.
 */
import {
  BAND_PARTIALS,
  listenedAt,
  measureStrings,
  partialHz,
  powerOf,
  HIGHEST_HZ,
  WITHIN_CENTS,
  centsBetween,
  type Listened,
} from './grip';
import { evidenceOf, noiseIn, type Evidence } from './presence';
import { stiffCents, USUAL_STIFFNESS } from './law';
import { sizeAt, type Spectrum } from './spectrum';
import { sizeOf, withoutTones } from './tones';

/** Notes that are looked for, as MIDI numbers: B1 to E6. */
const LOWEST = 35;
const HIGHEST = 88;
/** Below this, A2, bass and drums blend while they play: the bass goes up to G2. */
const LOWEST_OVER_BAND = 45;
/** Partials that are looked at. */
const PARTIALS = 6;
/** A string that sounds is no other note as far as this from it, in cents. */
const SAME_CENTS = 80;
/** Cents from one try to the next. */
const STEP = 5;
/** What lies so near to a string's partial, in bins, may be what its fit left. */
const MASKED_BINS = 3;

/** Foreign notes that are looked for. */
const MOST_FOREIGN = 2;
/**
 * A foreign note is one where it is so loud against the loudest string, in decibels, and changes by no more than so
 * many times its mean from one end to the other, as a short note of a soft string does: else it is a drum or a knock.
 * Of a band's drums and basses, which blend, more is left over.
 */
const ALONE = [-20, 1.5] as const;
const OVER_BAND = [-12, 1] as const;
/** So great a part of at least so many partials of its own speaks. */
const FOREIGN_SPEAKING = 0.6;
const FOREIGN_OWN = 3;
/** A note of the band sounds where so great a part of its own partials speaks. */
const BAND_SPEAKING = 0.5;
/** Above the bass, in hertz. */
const LOWEST_CHORD_HZ = 105;

/** What the band plays is no farther than this from where it should, in cents: it is never out of tune. */
const BAND_CENTS = 40;
/** Low notes cannot be placed nearer than this, in bins. */
const BAND_BINS = 0.7;

/** The note of the band, in hertz, on whose partials a found one lies; nothing where it is nobody's. */
function bandPitchOf(
  band: readonly number[],
  { hz, law }: Listened,
  seconds: number,
): number | undefined {
  const found = hz * 2 ** (law.cents / 1200);
  for (let number = 1; number <= BAND_PARTIALS; number++) {
    const played = band.find(
      (each) =>
        Math.abs(centsBetween(number * each, found)) < BAND_CENTS ||
        Math.abs(number * each - found) * seconds < BAND_BINS,
    );
    if (played !== undefined) return played;
  }
  return undefined;
}

/** Lines that the strings' own partials may have left something on. */
function masked(spectrum: Spectrum, strings: readonly Listened[]): Uint8Array {
  const mask = new Uint8Array(spectrum.re.length);
  const reach = MASKED_BINS / spectrum.seconds;
  for (const string of strings) {
    if (!string.there) continue;
    const last = string.band ?? Infinity;
    for (let number = 1; number <= last && number * string.hz < HIGHEST_HZ; number++) {
      const hz = partialHz(string, number);
      const from = Math.max(0, Math.floor((hz - reach) / spectrum.lineHz));
      const to = Math.min(mask.length - 1, Math.ceil((hz + reach) / spectrum.lineHz));
      mask.fill(1, from, to + 1);
    }
  }
  return mask;
}

/** The note that the rest of a spectrum holds most of, as a string to be listened for. */
function likeliestForeign(
  rest: Spectrum,
  strings: readonly Listened[],
  a4Hz: number,
  overBand = false,
): { readonly midi: number; readonly string: Listened } | undefined {
  const mask = masked(rest, strings);
  let best = 0;
  let found: { readonly midi: number; readonly string: Listened } | undefined;
  for (let midi = overBand ? LOWEST_OVER_BAND : LOWEST; midi <= HIGHEST; midi++) {
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

/** What sounds beside the strings that are expected. */
export interface Around {
  readonly a4Hz: number;
  /** What the band plays meanwhile, in hertz. */
  readonly band: readonly number[];
  /** Mean square of all that sounds. */
  readonly all: number;
}

/**
 * Looks for notes that do not belong, and adds them to the strings; by what was added its number, nothing where
 * it is the band's. A note of the band is taken out with all its partials before others are looked for.
 */
export function addForeign(
  spectrum: Spectrum,
  strings: Listened[],
  around: Around,
): (number | undefined)[] {
  const added: (number | undefined)[] = [];
  let band = around.band;
  let told = 0;
  while (told < MOST_FOREIGN) {
    const rest = withoutTones(
      spectrum,
      strings.flatMap(({ tones }) => tones),
    );
    const found = likeliestForeign(rest, strings, around.a4Hz, around.band.length > 0);
    if (found === undefined) break;
    const played = bandPitchOf(band, found.string, spectrum.seconds);
    const before = strings.map(({ law, tones }) => ({ law, tones }));
    if (played !== undefined) {
      band = band.filter((each) => each !== played);
      const tried = bandString(spectrum, strings, played);
      if (evidenceBeside(spectrum, strings, tried).speaking >= BAND_SPEAKING) {
        strings.push(tried);
        added.push(undefined);
        continue;
      }
      // what lies on a partial of a band's note that does not sound may be anybody's
      strings.forEach((string, at) => Object.assign(string, before[at]));
      continue;
    }
    const tried = found.string;
    measureStrings(spectrum, [...strings, tried], [6, 12]);
    if (!isForeign(spectrum, strings, tried, around)) {
      strings.forEach((string, at) => Object.assign(string, before[at]));
      break;
    }
    strings.push(tried);
    added.push(found.midi);
    told += 1;
  }
  return added;
}

/** What speaks for one more string that was measured beside the others. */
function evidenceBeside(
  spectrum: Spectrum,
  strings: readonly Listened[],
  tried: Listened,
): Evidence {
  const all = [...strings, tried].flatMap(({ tones }) => tones);
  return evidenceOf(tried, spectrum.seconds, noiseIn(withoutTones(spectrum, all)));
}

/**
 * A note of the band, measured beside the strings. A partial that is louder than all below it is another's: then only
 * those below it are its own. Of a bass, a small loudspeaker may give the second louder than the first.
 */
function bandString(spectrum: Spectrum, strings: readonly Listened[], hz: number): Listened {
  let tried: Listened = { ...listenedAt(hz, 0), band: BAND_PARTIALS };
  measureStrings(spectrum, [...strings, tried], [6, 12]);
  const sizes = tried.tones.map(sizeOf);
  const from = hz > LOWEST_CHORD_HZ ? 1 : 2;
  const louder = sizes.findIndex(
    (size, at) => at >= from && size > Math.max(...sizes.slice(0, at)),
  );
  if (louder >= 0) {
    tried = { ...listenedAt(hz, 0), band: louder };
    measureStrings(spectrum, [...strings, tried], [6, 12]);
  }
  return tried;
}

/** Whether what was measured beside the strings is a note, loud enough to be told. */
function isForeign(
  spectrum: Spectrum,
  strings: readonly Listened[],
  tried: Listened,
  { band, all }: Around,
): boolean {
  const { own, speaking, power } = evidenceBeside(spectrum, strings, tried);
  // where no string sounds, all that sounds is the measure
  const most = Math.max(
    all / 4,
    ...strings.map((each) => (each.there && each.band === undefined ? powerOf(each) : 0)),
  );
  const [least, change] = band.length > 0 ? OVER_BAND : ALONE;
  return (
    own >= FOREIGN_OWN &&
    speaking >= FOREIGN_SPEAKING &&
    power > most * 10 ** (least / 10) &&
    isSteady(tried, change)
  );
}

/** Whether a tone rings: a drum or a knock dies, a bass comes in, while it is listened to. */
function isSteady({ tones }: Listened, mostChange: number): boolean {
  let [sum, all] = [0, 0];
  for (const tone of tones) {
    if (tone.held || tone.shared) continue;
    sum += Math.abs(tone.growRe * tone.re + tone.growIm * tone.im);
    all += tone.re ** 2 + tone.im ** 2;
  }
  return sum <= mostChange * all;
}
