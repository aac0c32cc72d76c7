/** What is chosen about the sound, in words. */
import type { Timbre } from '$lib/rendering/actions';
import type { Choices } from './listening.svelte';

export const TIMBRE_WORDS: Readonly<Record<Timbre, string>> = {
  string: 'steel string',
  plain: 'plain tone',
};

export const EXTRAS = [
  { part: 'bass', words: 'Soft bass root', short: 'bass' },
  { part: 'amplifier', words: 'Overdrive', short: 'overdrive' },
  { part: 'vibrato', words: 'Bar vibrato', short: 'vibrato' },
  { part: 'swell', words: 'Volume swell', short: 'swell' },
  { part: 'harmonics', words: 'Palm harmonics', short: 'harmonics' },
] as const;

/** In a line: "plain tone, one by one, vibrato". */
export const soundSummary = (choices: Choices): string =>
  [
    TIMBRE_WORDS[choices.timbre],
    choices.manner,
    ...EXTRAS.filter(({ part }) => choices[part]).map(({ short }) => short),
  ].join(', ');
