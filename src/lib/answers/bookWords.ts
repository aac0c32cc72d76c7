/** Words that the sections of a book share. */
import { prettyName } from '$lib/theory/display';
import type { Key } from '$lib/theory/spelling';
import type { SpelledTone } from '$lib/theory/toneNames';
import { toneText } from './voicingText';

/** With a capital letter. */
export const capital = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);

/** `G major`. */
export const keyWords = ({ tonic, mode }: Key): string => `${prettyName(tonic)} ${mode}`;

/** `G (R), B (3), D (5)`. */
export const tonesText = (tones: readonly SpelledTone[]): string =>
  tones.map(({ name, degree }) => `${prettyName(name)} (${toneText(degree)})`).join(', ');
