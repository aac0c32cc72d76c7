/** How stops and splits are named, on the page and in the terminal. */
import { prettyPitch } from '$lib/theory/display';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import type { Place } from '$lib/setup/stretch';
import { centsText, centsWords } from './centsText';
import type { Given } from './fit';
import type { Split } from './splits';

/** `open`, `A`, `RKR at its half-stop`, `A and LKV`. */
export const controlText = ({
  control,
  state,
  raisedBy,
}: Pick<Place, 'control' | 'state' | 'raisedBy'>): string => {
  if (control === null) return 'open';
  if (raisedBy !== undefined) return `${raisedBy} and ${control}`;
  return state === 'half' ? `${control} at its half-stop` : control;
};

/** `String 5 with A`, `String 3, open`, `String 5 with A and LKV`. */
export const stopText = (stop: Pick<Place, 'string' | 'control' | 'state' | 'raisedBy'>): string =>
  stop.control === null
    ? `String ${stop.string}, open`
    : `String ${stop.string} with ${controlText(stop)}`;

/** A stop's string and control as a player writes them: `5 + A`, `2 + RKR½`, `5 + A + LKV`, `3`. */
export const stopShort = ({
  string,
  control,
  state,
  raisedBy,
}: Pick<Place, 'string' | 'control' | 'state' | 'raisedBy'>): string =>
  [
    String(string),
    raisedBy,
    control === null ? undefined : `${control}${state === 'half' ? '½' : ''}`,
  ]
    .filter((part) => part !== undefined)
    .join(' + ');

/** What a stop that no chord decides is tuned to: `equal temperament`, `as string 5 with A`. */
export function givenText(given: Given): string {
  switch (given.as) {
    case 'like':
      return `as ${stopText(given.stop).replace('String', 'string')}`;
    case 'near':
      return 'as near to equal temperament as its chords let it';
    case 'equal':
      return 'equal temperament';
    case 'chosen':
      return 'chosen by you';
  }
}

/** Off by less than this, a split is where it is wanted. */
const SPLIT_OFF_CENTS = 0.05;

/**
 * What a split comes out as, for the one who rigs it, as sentences: which string and controls, how far
 * off its target, whether a stop of its own sets it, and which other stop could be retuned by how much.
 */
export function splitText(setup: Setup, split: Split): string {
  const { string, engaged, midi, neck, off, wanted, retune } = split;
  const note = prettyPitch(tuningPitch(setup.necks[neck - 1], midi));
  const of = setup.necks.length > 1 ? ` of neck ${neck}` : '';
  const where = `String ${string}${of} with ${engagedWords(engaged)}`;
  const unstopped = setup.splitStops === true && !split.ownStop;
  const alone = unstopped ? ' It has no stop of its own: it cannot be tuned by itself.' : '';
  if (Math.abs(off) < SPLIT_OFF_CENTS) return `${where} sounds ${note} in tune.${alone}`;
  const ways = retune.map(
    ({ id, state, cents }) =>
      `${engagedText([{ id, state }])} ${Math.abs(cents).toFixed(1)} cents ${cents < 0 ? 'flatter' : 'sharper'}`,
  );
  const mend =
    ways.length === 0
      ? ''
      : ` ${ways.join(' or ')} would bring it right, with as much error alone.`;
  const than = centsText(wanted) === '0.0' ? '' : ` of its target ${centsText(wanted)}`;
  return `${where} sounds ${note} ${centsWords(off)}${than}.${alone}${mend}`;
}

/** What is said once above splits that no stop of their own sets. */
export const splitNote = ({ splitStops }: Setup): string =>
  splitStops === true
    ? 'Each split stop is tuned with one full raise and one full lower. A split with a half-stop, or with another raise, has none: it lies where the other stops leave it, for stretches add up where cents do not.'
    : 'Two controls on one string (a split) have no stop of their own. Each adds its stretch to the string, and stretches add up where cents do not.';
