/** An example of what one would play with a pull set, in words and with the bar at a fret. */
import { prettySymbol, spokenSymbol } from '$lib/theory/display';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Example, ExampleChord } from '$lib/coverage/examples';
import { keyOn, rootedChord } from '$lib/coverage/inKey';

export interface ExampleText {
  /** `E → Esus4`, or the one chord. */
  readonly chords: string;
  /** `with A`; empty where nothing else is engaged. */
  readonly held: string;
  /** The control that is engaged: `RKV`. */
  readonly pressed: string;
  /** `3-4-5`. */
  readonly strings: string;
  readonly spoken: string;
}

export function exampleText(
  { held, pressed, from, to, strings, tonic }: Example,
  fret: number,
): ExampleText {
  const key = keyOn(tonic, fret);
  const chord = ({ type, root }: ExampleChord) => rootedChord(type, root, fret, key);
  const written = (each: ExampleChord): string => prettySymbol(chord(each).symbol);
  const said = (each: ExampleChord): string => spokenSymbol(chord(each));
  const beside = held.length === 0 ? '' : `, with ${engagedWords(held)}`;
  return {
    chords: from === undefined ? written(to) : `${written(from)} → ${written(to)}`,
    held: held.length === 0 ? '' : `with ${engagedText(held)}`,
    pressed: engagedText([pressed]),
    strings: strings.join('-'),
    spoken: `${from === undefined ? said(to) : `${said(from)} becomes ${said(to)}`}${beside}, strings ${strings.join(' ')}`,
  };
}
