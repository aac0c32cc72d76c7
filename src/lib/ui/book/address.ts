/** The chord book's address: the setup, the paper, and what the book holds where that is not the usual. */
import type { BookTexts } from '$lib/answers/bookQuestion';
import type { Paper } from '$lib/formats/drawing';
import { USUAL_SETUP } from '$lib/setup/builtIns';
import type { PlaceAddress } from '$lib/ui/kit/placeState.svelte';
import { paperFrom } from '$lib/ui/paper/usualPaper';
import { given } from '$lib/ui/parts/given';

const PARTS = [
  'parts',
  'types',
  'key',
  'positions',
  'ladders',
  'scales',
] as const satisfies readonly (keyof BookTexts)[];

/** What is asked. */
export interface BookAddress {
  readonly setup: string;
  /** The usual one where it is left out. */
  readonly paper: Paper | undefined;
  readonly texts: BookTexts;
}

export const BOOK_ADDRESS: PlaceAddress<BookAddress> = {
  path: '/book',
  read: (parts) => ({
    setup: given(parts, 'setup') ?? USUAL_SETUP,
    paper: parts.has('paper') ? paperFrom(parts.get('paper'), '') : undefined,
    texts: Object.fromEntries(
      PARTS.flatMap((part) => {
        const text = given(parts, part);
        return text === undefined ? [] : [[part, text]];
      }),
    ),
  }),
  write: ({ setup, paper, texts }) =>
    new URLSearchParams({
      ...(setup === USUAL_SETUP ? {} : { setup }),
      ...(paper === undefined ? {} : { paper }),
      ...Object.fromEntries(
        PARTS.flatMap((part) => ((texts[part] ?? '') === '' ? [] : [[part, texts[part] ?? '']])),
      ),
    }).toString(),
};
