/** Positions as options: where one begins, and where one goes. */
import { fits, type Hold } from '$lib/search/hold';
import type { PlainOption } from './options';
import { readHold } from './stepWishes';

/** What a position looks like: fret, controls, strings; then slant and neck. */
const FORM = /^\d+\/[^/]+\/[\d,\s-]+(?:\/-?\d(?:\/\d+)?)?$/;

/** A position that hands and feet can take, its strings in order: `8/A,B/3-4-5`. */
export const HOLD: PlainOption<Hold> = {
  form: FORM,
  read: (text, setup) => {
    const hold = readHold(text, setup);
    if (hold === undefined || hold.strings.length === 0 || !fits(setup, hold)) return undefined;
    return { ...hold, strings: [...hold.strings].sort((a, b) => a - b) };
  },
  allowed: ({ frets, necks }) =>
    `a position such as 8/A,B/3-4-5: a fret from 0 to ${frets}, controls that can be engaged together or -, strings${necks.length > 1 ? '; then slant and neck, as in 8/-/3-4-5/0/2' : ''}`,
};
