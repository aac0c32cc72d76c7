/** An arrangement as cards in a row, ready to be shown. */
import { prettySymbol, spokenSymbol } from '$lib/theory/display';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import type { Chord } from '$lib/theory/chord';
import { toneAt } from '$lib/theory/toneNames';
import { fretText, missingText, toneText, voicingText } from '$lib/answers/voicingText';
import type { ArrangedStep, ArrangedWay } from '$lib/arrange/arrange';
import { againWords, heldWords, moveWords } from '$lib/arrange/moveWords';
import type { Progression } from '$lib/arrange/progression';
import { strokesOf, type Strokes } from '$lib/playing/strokes';
import { colourOf } from '$lib/ui/explore/neckAdapter';
import type { ToneColour } from '$lib/ui/neck/neckView';

export interface CardView {
  readonly index: number;
  /** From 1. */
  readonly measure: number;
  readonly symbol: string;
  readonly fret: string;
  readonly controls: string;
  /** Controls that stay engaged from the chord before though this one does not need them. */
  readonly stays: string;
  readonly neck: string;
  readonly strings: string;
  readonly notes: string;
  readonly missing: string;
  readonly effort: string;
  /** From the chord before; empty at the first. */
  readonly move: string;
  readonly held: string;
  /** String 1 first; what is not picked has no tone. */
  readonly lines: readonly {
    readonly string: number;
    readonly tone?: { readonly text: string; readonly colour: ToneColour };
    /** It sounds on from the chord before. */
    readonly rings: boolean;
  }[];
  readonly spoken: string;
}

/**
 * What makes the card of each step of a way, when it is asked for it. The strings that ring on are
 * those of the tablature and of what is heard.
 *
 * @param named a chord of a measure as the reader wants it: letters, numbers or both
 */
export function cardsOf(
  setup: Setup,
  progression: Progression,
  { steps }: ArrangedWay,
  named: (chord: Chord, measure: number) => string = ({ symbol }) => prettySymbol(symbol),
): (step: ArrangedStep, at: number) => CardView {
  const strokes = strokesOf(setup, progression, steps);
  return (step, at) =>
    cardOf(setup, step, named(step.chord, step.step.bar), steps[at - 1], {
      held: strokes[at]?.held ?? [],
      again: strokes[at - 1]?.again ?? [],
    });
}

function cardOf(
  setup: Setup,
  step: ArrangedStep,
  symbol: string,
  before: ArrangedStep | undefined,
  // those that ring on into it, and which of them are picked again just before
  { held, again }: Strokes,
): CardView {
  const { chord, tones, voicing, way, stays, hold, effort } = step;
  const text = voicingText({ ...chord, tones: tones as typeof chord.tones }, voicing);
  const toneOn = new Map(
    voicing.strings.map((string, at) => [string, toneAt(tones, voicing.pitches[at] ?? 0)]),
  );
  const neck = setup.necks[hold.neck - 1];
  const count = neck?.strings.length ?? 0;
  const left = text.missing.map(missingText);
  const missing = left.length === 0 ? '' : `no ${left.join(', ')}`;
  return {
    index: step.index,
    measure: step.step.bar + 1,
    symbol,
    fret: fretText(voicing),
    controls: engagedText(way) || '–',
    stays:
      stays.length === 0 ? '' : `${engagedText(stays)} ${stays.length === 1 ? 'stays' : 'stay'}`,
    neck: setup.necks.length > 1 ? (neck?.name ?? '') : '',
    strings: text.strings,
    notes: text.notes.join(' '),
    missing,
    effort: effort.total.toFixed(1),
    move: before === undefined ? '' : moveWords(before, step),
    held:
      before === undefined
        ? ''
        : [heldWords(step, held), againWords(again)].filter((text) => text !== '').join('; '),
    lines: Array.from({ length: count }, (_, at) => {
      const tone = toneOn.get(at + 1);
      return {
        string: at + 1,
        rings: held.includes(at + 1),
        ...(tone === undefined
          ? {}
          : { tone: { text: toneText(tone.degree), colour: colourOf(tone.role) } }),
      };
    }),
    spoken: `measure ${step.step.bar + 1}, ${spokenSymbol(chord)}: fret ${fretText(voicing)}, ${engagedWords(way)}${stays.length === 0 ? '' : `, ${engagedWords(stays)} ${stays.length === 1 ? 'stays' : 'stay'}`}, strings ${voicing.strings.join(' ')}`,
  };
}
