/** Questions and answers in a form that tests can compare. */
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import type { Setup } from '$lib/setup/setup';
import type { Voicing } from '$lib/search/voicing';
import { answer } from '$lib/answers/answer';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { EVEN } from '$lib/effort/weights';
import type { Question } from '$lib/answers/question';

export function chordOf(symbol: string): Chord {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(`${symbol} is no chord`);
  return read.value;
}

/** Every neck and fret, three and four strings, lean, straight bar; and what is asked besides. */
export const question = (
  setup: Setup,
  symbol: string,
  besides: Partial<Question> = {},
): Question => ({
  chord: chordOf(symbol),
  necks: setup.necks.map((_, index) => index + 1),
  frets: [0, setup.frets],
  sizes: [3, 4],
  match: 'lean',
  without: [],
  slants: false,
  balance: EVEN,
  ...besides,
});

/** The whole list, best first. */
export function ask(
  setup: Setup,
  symbol: string,
  besides: Partial<Question> = {},
): RankedVoicing[] {
  const found = answer(setup, question(setup, symbol, besides));
  return Array.from({ length: found.count }, (_, place) => found.at(place));
}

export const wayText = (way: Voicing['ways'][number]): string =>
  way.map(({ id, state }) => (state === 'half' ? `${id}½` : id)).join('+');

/** What makes two voicings the same (model, section 4), the frets of a slanted bar with it. */
export const keyOf = ({ neck, frets, strings, pitches }: Voicing): string =>
  [neck, frets.join('-'), strings.join('-'), pitches.join('-')].join('|');

/** A voicing with its ways, for comparing lists that may be ordered differently. */
export const wholeOf = (voicing: Voicing): string =>
  `${keyOf(voicing)}|${voicing.ways.map(wayText).sort().join(' ')}`;
