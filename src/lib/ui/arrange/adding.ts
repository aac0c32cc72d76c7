/** A voicing on its way from another place into the progression in hand. */
import type { WishTexts } from '$lib/answers/wishParts';
import { holdsNoChord } from '$lib/arrange/textSigns';
import { holdText } from '$lib/answers/stepWishes';
import type { Hold } from '$lib/search/hold';
import { currentProgression } from '$lib/ui/parts/currentProgression.svelte';

const CHORD = 'add';
const HOLD = 'add-hold';

export interface Added {
  readonly symbol: string;
  /** As the wishes for single chords have it behind `hold:`; empty where any voicing will do. */
  readonly hold: string;
}

/** The address, behind the question mark, that adds a voicing of a setup to what is in hand for it. */
export function addingQuery(setup: string, symbol: string, hold: Hold): string {
  const there = currentProgression();
  const mine = there?.setup === setup ? there.query : '';
  // the example that the page begins with is nobody's piece
  const parts = new URLSearchParams(mine === '' ? { setup, chords: '' } : mine);
  parts.set(CHORD, symbol);
  parts.set(HOLD, holdText(hold));
  return parts.toString();
}

/** What an address wants added. */
export function addedIn(parts: URLSearchParams): Added | undefined {
  const symbol = parts.get(CHORD)?.trim() ?? '';
  // a symbol is one word; an address is written by anybody
  if (symbol === '' || symbol.length > 30 || /[\s|]/u.test(symbol)) return undefined;
  return { symbol, hold: parts.get(HOLD) ?? '' };
}

/** Wishes with one chord more, held so; nothing for a chord that is found. */
export const withHold = (wishes: WishTexts, index: number, hold: string): WishTexts =>
  hold === ''
    ? wishes
    : {
        ...wishes,
        locks: [wishes.locks ?? '', `${index + 1}=hold:${hold}`].filter(Boolean).join(';'),
      };

/** A text of chords with one more at its end: in a bar of its own, and never behind a heading. */
export function withChord(text: string, symbol: string): string {
  const before = text.trimEnd();
  if (before === '') return symbol;
  const last = before.slice(before.lastIndexOf('\n') + 1);
  const between = holdsNoChord(last) ? '\n' : before.endsWith('|') ? ' ' : ' | ';
  return before + between + symbol;
}
