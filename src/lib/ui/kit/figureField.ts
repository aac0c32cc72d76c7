/** A figure of the setup that may be typed in: what stands in its field, and how an edit of it is made. */
import type { Edited } from '$lib/setup/edits/edited';
import type { Setup } from '$lib/setup/setup';
import type { Quantity } from '$lib/strings/fieldUnits';
import type { Typing } from './fieldText.svelte';

export interface FigureField {
  readonly label: string;
  readonly hint?: string;
  /** Of a length or a force, which the reader sees in the unit of choice. */
  readonly quantity?: Quantity;
  readonly kept: number | string | undefined;
  /** What the edit is called. */
  readonly edit: string;
  readonly set: (setup: Setup, text: string) => Edited;
}

/** Makes an edit; a sentence where it cannot be. */
export type MakeEdit = (
  change: (setup: Setup) => Edited,
  label: string,
  options: Typing,
) => string | undefined;
