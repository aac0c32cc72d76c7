/** Who can put which tone on top, ready to be shown. */
import { roleOf } from '$lib/theory/duties';
import { typeName } from '$lib/theory/display';
import type { TypeDifference } from '$lib/coverage/differences';
import type { TypeCoverage } from '$lib/coverage/types';
import { wantedType } from '$lib/theory/wantedType';
import { toneText } from '$lib/answers/voicingText';
import { colourOf } from '$lib/ui/explore/neckAdapter';
import type { ToneColour } from '$lib/ui/neck/neckView';
import { numberText } from './compareView';

export interface MelodyTone {
  readonly degree: string;
  readonly text: string;
  readonly colour: ToneColour;
  readonly a: MelodyCount;
  readonly b: MelodyCount;
}

export interface MelodyCount {
  /** Voicings of one chord, the mean of its twelve roots. */
  readonly count: number;
  readonly text: string;
}

export interface MelodyRow {
  readonly type: string;
  readonly label: string;
  readonly tones: readonly MelodyTone[];
}

function countOf({ tops }: TypeCoverage, degree: string): MelodyCount {
  const count = (tops.find((each) => each.degree === degree)?.voicings ?? 0) / 12;
  return { count, text: count === 0 ? 'none' : numberText(count, count < 10 ? 1 : 0) };
}

/** From so much on the one is said to be ahead: twice as many voicings are another choice of melodies. */
const APART = 2;
const apart = ({ a, b }: MelodyTone): boolean =>
  Math.max(a.count, b.count) >= APART * Math.min(a.count, b.count) && a.text !== b.text;

/** The tones that one of the two can put on top and the other cannot, or not half as often. */
export const melodyRows = (types: readonly TypeDifference[]): MelodyRow[] =>
  types.flatMap(({ type, a, b }) => {
    const tones = wantedType(type)
      .chord.tones.map(({ degree }): MelodyTone => ({
        degree,
        text: toneText(degree),
        colour: colourOf(roleOf(degree)),
        a: countOf(a, degree),
        b: countOf(b, degree),
      }))
      .filter(apart);
    return tones.length === 0 ? [] : [{ type, label: typeName(type), tones }];
  });
