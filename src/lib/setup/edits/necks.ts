/** Adding, removing, naming and transposing necks. */
import { refuse } from '$lib/result';
import { pitchText } from '$lib/theory/pitch';
import type { Neck, Setup } from '../setup';
import { BOUNDS } from '../bounds';
import { edited, type Edited } from './edited';
import { retuned } from './retune';
import { rerouted, withNeck } from './strings';

/** A further neck behind the others, on which no control moves anything yet. */
export function addNeck(setup: Setup, neck: Neck): Edited {
  if (setup.necks.length >= BOUNDS.necks[1])
    return refuse(`A setup has at most ${BOUNDS.necks[1]} necks.`);
  return edited({ ...setup, necks: [...setup.necks, neck] });
}

/** Takes a neck away with all pulls on it. */
export function removeNeck(setup: Setup, neck: number): Edited {
  if (setup.necks.length <= BOUNDS.necks[0]) return refuse('A setup has at least one neck.');
  const left = rerouted(setup, (pull) => {
    if (pull.neck === neck) return undefined;
    return pull.neck > neck ? { ...pull, neck: pull.neck - 1 } : pull;
  });
  return edited({ ...left, necks: setup.necks.filter((_, index) => index !== neck - 1) });
}

/** Gives a neck (from 1) another name, without the white space around it. */
export function renameNeck(setup: Setup, neck: number, name: string): Edited {
  const there = setup.necks[neck - 1];
  if (there === undefined) return refuse(`There is no neck ${neck}.`);
  return edited(withNeck(setup, neck, { ...there, name: name.trim() }));
}

/** Every open string of a neck some semitones up or down; the pulls go along as they are. */
export function transposeNeck(setup: Setup, neck: number, semitones: number): Edited {
  const there = setup.necks[neck - 1];
  if (there === undefined) return refuse(`There is no neck ${neck}.`);
  const strings = there.strings.map((string) => ({
    ...string,
    open: retuned(string.open, semitones),
  }));
  const [low, high] = BOUNDS.openMidi;
  for (const [index, { open }] of strings.entries())
    if (open.midi < low || open.midi > high)
      return refuse(`String ${index + 1} would be ${pitchText(open)}; strings lie from C0 to C8.`);
  return edited(withNeck(setup, neck, { ...there, strings }));
}
