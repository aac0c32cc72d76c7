/** Where a ladder breaks off and what goes on, in words: for the page and the terminal alike. */
import { prettyPitch } from '$lib/theory/display';
import type { Scale } from '$lib/theory/scales';
import type { LadderBreak, LadderOffer, MissingRung } from '$lib/scales/ladderBreaks';
import type { LadderQuestion } from '$lib/scales/ladders';
import { spelledIn } from '$lib/scales/sequence';
import { toneText } from './voicingText';

const and = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** `the 5 above (G4 over B3)` */
function rungWords(scale: Scale, { degree, pitches }: MissingRung, where: string): string {
  const notes = [...pitches].reverse().map((pitch) => prettyPitch(spelledIn(scale, pitch)));
  return `the ${toneText(degree)} ${where} (${notes.join(' over ')})`;
}

/** Why a ladder ends where it does, as a sentence. */
export function breakText(
  scale: Scale,
  { strings, slants, frets, interval }: LadderQuestion,
  { rungs, above, below }: LadderBreak,
): string {
  const those = strings === undefined ? 'no strings' : `strings ${and(strings.map(String))}`;
  const where = `at frets ${frets.join(' to ')}${slants ? '' : ' under a straight bar'}, whatever is engaged`;
  if (rungs < 2)
    return `There is no such ladder: ${those} have ${strings === undefined ? '' : 'no '}two neighbouring degrees in ${interval} ${where}.`;
  const missing = [
    ...(above === undefined ? [] : [rungWords(scale, above, 'above')]),
    ...(below === undefined ? [] : [rungWords(scale, below, 'below')]),
  ];
  if (missing.length === 0) return `It ends with the neck after ${rungs} rungs.`;
  const gives =
    strings === undefined
      ? `no strings have ${missing.join(' or ')}`
      : missing.length === 1
        ? `${those} do not have ${missing.join('')}`
        : `${those} have neither ${missing.join(' nor ')}`;
  return `It breaks off after ${rungs} rungs: ${gives} ${where}.`;
}

/** What has more, ready for a button or an option. */
export interface OfferText {
  readonly words: string;
  /** Texts of the question to be put in; an empty one takes a limit away. */
  readonly change: { readonly [part in 'strings' | 'slants' | 'frets']?: string };
}

/** `strings 2, 4: 9 rungs` */
export function offerText({ strings, slants, frets, rungs }: LadderOffer): OfferText {
  const [what, change] =
    slants === true
      ? (['slanted bar', { slants: 'on' }] as const)
      : frets === 'all'
        ? (['the whole neck', { frets: '' }] as const)
        : strings === 'any' || strings === undefined
          ? (['any strings', { strings: '' }] as const)
          : ([`strings ${and(strings.map(String))}`, { strings: strings.join(',') }] as const);
  return { words: `${what}: ${rungs} rungs`, change };
}
