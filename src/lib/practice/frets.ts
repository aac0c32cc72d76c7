/** Where the bar lies when a position is practised: first in a usual key, then around the circle of fifths. */
import { chromaOf, chromaOfName, noteName, type Chroma } from '$lib/theory/pitch';
import { homeRoots } from '$lib/setup/homeChord';
import type { Setup } from '$lib/setup/setup';
import { fretsOf, type Shape } from './position';

/** Keys in which music is first read and played, as common practice has it. */
const FIRST_KEYS: readonly Chroma[] = (['G', 'C', 'D', 'A', 'F', 'E'] as const).map((letter) =>
  chromaOfName(noteName(letter, 0)),
);
/** Where the bar is easiest to lead: beyond the nut's narrow frets' beginning, below the octave. */
const [LOWEST, HIGHEST] = [3, 8];
/** Semitones of a fourth: twelve of them come by every root once. */
const FOURTH = 5;

/** The fret where the neck's open chord is that of the first of the usual keys which lies well. */
export function firstFret(setup: Setup, neck: number): number {
  const played = setup.necks[neck - 1];
  const root = played === undefined ? 0 : (homeRoots(played)[0] ?? 0);
  const frets = FIRST_KEYS.map((key) => chromaOf(key - root));
  return frets.find((fret) => fret >= LOWEST && fret <= HIGHEST) ?? LOWEST;
}

/**
 * The fret at which shapes are practised together.
 *
 * @param turn how often it was right before: 0 gives the usual key, each further turn a root a fourth higher
 */
export function fretOfTurn(setup: Setup, shapes: readonly Shape[], turn: number): number {
  const [first] = shapes;
  if (first === undefined) throw new Error('no shape to lay down');
  const home = firstFret(setup, first.neck);
  const allowed = shapes.map((shape) => fretsOf(setup, shape));
  const round = Array.from({ length: 12 }, (_, step) => chromaOf(home + FOURTH * step)).filter(
    (fret) => fret > 0 && allowed.every((frets) => frets.includes(fret)),
  );
  return round[turn % round.length] ?? home;
}
