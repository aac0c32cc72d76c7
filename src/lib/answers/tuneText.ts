/** A tune in a texture in words. */
import type { Lack } from '$lib/arrange/tune';
import { pitchText } from '$lib/theory/pitch';

/** What is less than was asked for, in words. */
export function lackText({ onset, lacks }: Lack): string {
  const note = onset.melody === undefined ? '' : pitchText(onset.melody);
  const where = `Measure ${onset.measure + 1}`;
  if (lacks === 'wish')
    return `${where}, beat ${onset.beat}: what is asked of ${note === '' ? (onset.chord?.symbol ?? '') : note} cannot be had on this setup; it is played freely.`;
  if (lacks === 'second')
    return `${where}: ${note} is played alone, for no two strings give ${onset.second === undefined ? '' : pitchText(onset.second)} with it.`;
  const chord = onset.chord?.symbol ?? '';
  if (lacks === 'chord')
    return `${where}: ${note} is played alone, for no voicing of ${chord} has it on top.`;
  return `${where}: ${note === '' ? chord : note} cannot be played on this setup.`;
}
