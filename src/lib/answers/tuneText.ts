/** A tune in a texture in words. */
import type { Lack, TuneStep, TuneWay } from '$lib/arrange/tune';
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

const holdOf = ({ hold, way }: TuneStep): string =>
  JSON.stringify([hold.neck, hold.fret, hold.slant, hold.strings, way]);

/** Where an arrangement differs from another: `plays measures 3 and 5 otherwise`; nothing where it is that one. */
export function tuneDifference(from: TuneWay | undefined, to: TuneWay | undefined): string {
  if (from === undefined || to === undefined || from === to) return '';
  const measures = new Set<number>();
  to.steps.forEach((step, at) => {
    const other = from.steps[at];
    if (other === undefined || holdOf(other) !== holdOf(step)) measures.add(step.onset.measure + 1);
  });
  const numbers = [...measures].map(String);
  if (numbers.length === 0) return 'keeps other controls engaged';
  if (numbers.length > 6) return `plays ${numbers.length} measures otherwise`;
  const last = numbers.pop();
  return numbers.length === 0
    ? `plays measure ${last} otherwise`
    : `plays measures ${numbers.join(', ')} and ${last} otherwise`;
}
