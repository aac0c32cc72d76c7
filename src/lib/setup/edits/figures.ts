/** What a setup says of the instrument as a whole: its name, notes, frets, scale and reference pitch. */
import { refuse } from '$lib/result';
import type { Setup } from '../setup';
import { edited, type Edited } from './edited';

/** Gives the setup another name, without the white space around it; an empty one is refused. */
export const rename = (setup: Setup, name: string): Edited =>
  name.trim() === '' ? refuse('A setup needs a name.') : edited({ ...setup, name: name.trim() });

/** Free words; none where the text is empty. */
export function setNotes({ notes: _, ...setup }: Setup, text: string): Edited {
  return edited(text === '' ? setup : { ...setup, notes: text });
}

/** Whether the changer has split stops. */
export function setSplitStops({ splitStops: _, ...setup }: Setup, has: boolean): Edited {
  return edited(has ? { ...setup, splitStops: true } : setup);
}

/** The figures of an instrument that `setFigure` sets. */
export const FIGURES = ['frets', 'scaleLengthMm', 'referenceHz'] as const;
export type Figure = (typeof FIGURES)[number];

/** Sets a figure from what a player wrote; a comma may stand for the point. */
export function setFigure(setup: Setup, figure: Figure, text: string): Edited {
  const plain = text.trim().replace(',', '.');
  if (!/^\d+(\.\d+)?$/.test(plain)) return refuse(`“${text}” is no number.`);
  return edited({ ...setup, [figure]: Number(plain) });
}
