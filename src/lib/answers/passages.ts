/** Passages asked in texts, and what they are called: for the page and the terminal alike. */
import type { Chord } from '$lib/theory/chord';
import { readChordInKey } from '$lib/theory/readChord';
import { readScale, scaleOfChord, scaleOn, scaleTypeNamed, type Scale } from '$lib/theory/scales';
import { parseKey, type Key } from '$lib/theory/spelling';
import { sizeOf } from '$lib/theory/pcset';
import { ok, refuse, type Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { keyFrom } from '$lib/scales/leadsOn';
import { passages, triadsIn, type Passage } from '$lib/scales/passages';
import { KEY, ON_OR_OFF } from './commonOptions';
import { HOLD } from './holdOption';
import { chordHeard } from './leadsOn';
import { readOptions, type OptionFault, type PlainOption, type TextsOf } from './options';

/** What passages are asked with, as it is written. */
export type PassagePart = 'from' | 'to' | 'scale' | 'key' | 'slants';
export type PassageTexts = TextsOf<PassagePart>;

/** Passages, and what they were looked for with. */
export interface Passages {
  readonly scale: Scale;
  readonly fromChord: Chord | undefined;
  readonly toChord: Chord | undefined;
  readonly passages: readonly Passage[];
}

/** What would find some where nothing is found, tried. */
export interface PassageOffer {
  /** `slant the bar` */
  readonly words: string;
  /** Texts of the question to be put in; an empty one takes it away. */
  readonly change: PassageTexts;
  readonly count: number;
}

/** A scale of a key that says itself. */
const scaleOfKey = ({ tonic, mode }: Key): Scale | undefined => {
  const type = scaleTypeNamed(mode);
  return type && scaleOn(tonic, type);
};

const toOption = (key: Key | undefined): PlainOption<Hold | Chord> => ({
  form: /\S/,
  read: (text, setup) => {
    if (/^\d+\s*\//.test(text)) return HOLD.read(text, setup);
    const chord = readChordInKey(text, key);
    return chord.ok && chord.value !== 'no chord' ? chord.value : undefined;
  },
  allowed: (setup) => `a chord such as F or Dm7, or ${HOLD.allowed(setup)}`,
});

const SCALE = (key: Key | undefined): PlainOption<Scale> => ({
  read: (text) => {
    const read = readScale(text, key);
    return read.ok ? read.value : undefined;
  },
  allowed: () => 'a root and the name of a scale such as G mixolydian, or a chord such as G7',
});

/**
 * Reads what is asked and finds the passages.
 *
 * @param symbol the chord that `from` is played as; what it is heard as where left out
 */
export function passagesFor(
  setup: Setup,
  texts: PassageTexts,
  symbol = '',
): Result<Passages, readonly OptionFault<PassagePart>[]> {
  const typed = parseKey(texts.key ?? '');
  const table = {
    ...{ from: HOLD, key: KEY, scale: SCALE(typed), slants: ON_OR_OFF },
    to: toOption(typed),
  };
  const { values, faults } = readOptions(table, setup, texts);
  const { from, to, slants, key } = values;
  if (faults.length > 0 || from === undefined || to === undefined) return refuse(faults);
  const named = symbol === '' ? undefined : readChordInKey(symbol, key);
  const fromChord =
    named?.ok === true && named.value !== 'no chord' ? named.value : chordHeard(setup, from, key);
  const toChord = 'symbol' in to ? to : chordHeard(setup, to, key);
  const scale = values.scale ?? scaleBetween(fromChord, toChord, key);
  if (scale === undefined)
    return refuse([
      {
        path: 'scale',
        found: 'no scale, and no chord that would say one',
        allowed: SCALE(typed).allowed(setup),
        wrong: 'impossible',
      },
    ]);
  const question = {
    ...{ from, fromChord, scale, slants },
    to: 'symbol' in to ? { chord: to } : { hold: to, chord: toChord },
  };
  return ok({ scale, fromChord, toChord, passages: passages(setup, question) });
}

/** Triads of a scale that have two tones of a chord or three, those with most of them first. */
const near = (chord: Chord, scale: Scale): Chord[] =>
  triadsIn(scale)
    .map((triad) => ({ triad, shared: sizeOf(triad.pitchClasses & chord.pitchClasses) }))
    .filter(({ shared }) => shared >= 2)
    .sort((a, b) => b.shared - a.shared)
    .map(({ triad }) => triad);

const MOST_OFFERS = 2;

/** What near a question finds passages where it finds none itself: the little that is given up first. */
export function passageOffers(setup: Setup, texts: PassageTexts, symbol = ''): PassageOffer[] {
  const asked = passagesFor(setup, texts, symbol);
  if (!asked.ok || asked.value.passages.length > 0) return [];
  const { fromChord, toChord, scale } = asked.value;
  const to = (chord: Chord, words: string): Attempt => [words, { to: chord.symbol }];
  type Attempt = readonly [words: string, change: PassageTexts];
  const attempts: readonly Attempt[] = [
    ['slant the bar', { slants: 'on' }],
    ...(toChord === undefined ? [] : [to(toChord, `${toChord.symbol} wherever it lies`)]),
    ['in the scale of the chords', { scale: '', key: '' }],
    ...(toChord === undefined ? [] : near(toChord, scale)).map((chord) =>
      to(chord, `to ${chord.symbol}, which is near`),
    ),
    ...(fromChord === undefined ? [] : [to(fromChord, `to ${fromChord.symbol} elsewhere`)]),
  ];
  const offers: PassageOffer[] = [];
  for (const [words, change] of attempts) {
    if (offers.length === MOST_OFFERS) break;
    const found = passagesFor(setup, { ...texts, ...change }, symbol);
    const count = found.ok ? found.value.passages.length : 0;
    if (count > 0) offers.push({ words, change, count });
  }
  return offers;
}

/**
 * The scale that lies nearest: the key's where one is set; else that of the first chord, in its own key if
 * this has all of the second chord's tones, which holds its home longest; else that of the second.
 */
function scaleBetween(
  from: Chord | undefined,
  to: Chord | undefined,
  key: Key | undefined,
): Scale | undefined {
  if (key !== undefined) return scaleOfKey(key);
  const chords = [from, to].filter((each) => each !== undefined);
  const homes = chords.flatMap((chord) => [scaleOfKey(keyFrom(chord)), scaleOfChord(chord)]);
  const all = chords.reduce((set, { pitchClasses }) => set | pitchClasses, 0);
  return (
    homes.find((scale) => scale !== undefined && (all & ~scale.pitchClasses) === 0) ?? homes[0]
  );
}
