/**
 * Arrange's state as the part of an address after the question mark. What stands at its usual
 * value is left out; unknown parts are passed over, so that an old bookmark still opens.
 */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { stepsOf, type Progression } from '$lib/arrange/progression';
import { WISH_PARTS } from '$lib/answers/wishParts';
import { fromText, shownText, tuneBeside, type StoredProgression } from '$lib/storage/piece';
import { storeVersionForTab, storedVersionForTab } from '$lib/storage/tab';
import type { PlaceAddress } from '$lib/ui/kit/placeState.svelte';
import { textsIn } from '$lib/ui/parts/addressParts';
import { given } from '$lib/ui/parts/given';
import { addedIn, type Added } from './adding';

/** What is asked; where it is saved, the address names it and nothing else. */
export type ProgressionAddress = StoredProgression;

export const savedAddressText = (id: string): string =>
  new URLSearchParams({ progression: id }).toString();

/** The id of the saved progression that an address names. */
export const savedIn = (parts: URLSearchParams): string | undefined => given(parts, 'progression');

/** Tonic, subdominant and dominant, as every player meets them first. */
export const FIRST_TEXT = `title: Three places at one fret
tempo: 84
G | C | G | D7
G | Em | Am D7 | G`;

/** Longest text that goes into an address; a longer one is remembered for the tab. */
const MOST_IN_ADDRESS = 4000;

/** Says in the address that the text is remembered for the tab. */
const LONG = 'long-text';

/** Says in the address that notes and words beside the text are remembered for the tab. */
const TUNE = 'tune';

/** What an address says is remembered for the tab, as it was when the address was written. */
function rememberedIn(parts: URLSearchParams, name: string): string | undefined {
  const mark = parts.get(name);
  return mark === null ? undefined : storedVersionForTab(name, mark);
}

export function readProgressionAddress(parts: URLSearchParams): ProgressionAddress {
  const tune = rememberedIn(parts, TUNE);
  // a piece may be empty, as a chord's field may
  const text = parts.get('chords') ?? rememberedIn(parts, LONG) ?? FIRST_TEXT;
  const about = { setup: given(parts, 'setup') ?? USUAL_SETUP, wishes: textsIn(parts, WISH_PARTS) };
  return fromText(about, text, tune);
}

/** The text after the question mark, without it; empty at the usual state. Remembers a long text. */
export function progressionAddressText(asked: ProgressionAddress): string {
  const { setup, piece, wishes } = asked;
  const [text, tune] = [shownText(asked), tuneBeside(piece)];
  const parts = new URLSearchParams();
  if (setup !== USUAL_SETUP) parts.set('setup', setup);
  if (text.length > MOST_IN_ADDRESS) {
    parts.set(LONG, storeVersionForTab(LONG, text));
  } else if (text !== FIRST_TEXT) parts.set('chords', text);
  if (tune !== undefined) parts.set(TUNE, storeVersionForTab(TUNE, tune));
  for (const part of WISH_PARTS) {
    const value = wishes[part]?.trim() ?? '';
    if (value !== '') parts.set(part, value);
  }
  return parts.toString();
}

/** Arrange's whole address: what is asked, or which kept piece; and what another place adds to it. */
export const arrangeAddress: PlaceAddress<{
  readonly asked: ProgressionAddress;
  readonly saved?: string | undefined;
  readonly added?: Added | undefined;
}> = {
  path: '/arrange',
  read: (parts) => ({
    asked: readProgressionAddress(parts),
    saved: savedIn(parts),
    added: addedIn(parts),
  }),
  write: ({ asked, saved }) =>
    saved === undefined ? progressionAddressText(asked) : savedAddressText(saved),
};

/** More chords than these make no tuning better. */
export const MOST_TO_TUNE = 24;

/** Tuning's address, behind the question mark, for the chords of a piece, each once. */
export function tuningQuery(setup: string, piece: Progression): string {
  const symbols = stepsOf(piece).flatMap(({ chord }) =>
    chord === 'no chord' ? [] : [chord.symbol],
  );
  const chords = [...new Set(symbols)].slice(0, MOST_TO_TUNE).join(' ');
  return new URLSearchParams({ setup, chords }).toString();
}
