/** What is shown of a scale, as plain texts. */
import { prettyPitch, prettySymbol, signsInWords, spokenPitch } from '$lib/theory/display';
import type { Midi } from '$lib/theory/pitch';
import type { Scale } from '$lib/theory/scales';
import { spelled, toneAt } from '$lib/theory/toneNames';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { fretText, toneText } from '$lib/answers/voicingText';
import type { Rung } from '$lib/scales/ladders';
import type { AddedNote, ScaleString } from '$lib/scales/atBar';
import { spelledIn } from '$lib/scales/sequence';
import { colourOf } from '$lib/ui/explore/neckAdapter';
import type { ToneColour } from '$lib/ui/neck/neckView';

/** A note with its degree, and how it is said. */
export interface NoteText {
  readonly note: string;
  readonly degree: string;
  readonly colour: ToneColour;
  readonly spoken: string;
}

/** A degree as it is read aloud: `degree 2`, `degree flat 7`, `root`. */
export const degreeWords = (degree: string): string =>
  degree === 'R' ? 'root' : `degree ${signsInWords(degree)}`;

/** A pitch of a scale. */
export function noteText(scale: Scale, pitch: Midi): NoteText {
  const tone = toneAt(scale.tones, pitch);
  const written = spelledIn(scale, pitch);
  const degree = toneText(tone?.degree ?? '');
  return {
    note: prettyPitch(written),
    degree,
    colour: tone === undefined ? 'plain' : colourOf(tone.role),
    spoken: `${spokenPitch(written)}, ${degreeWords(degree)}`,
  };
}

/** The name of a scale: `D dorian`, `B♭ major`. */
export const scaleText = ({ name }: Scale): string => prettySymbol(name);

/** One note that a control adds, ready for its button. */
export interface AddedText extends NoteText {
  readonly control: AddedNote['control'];
  readonly words: string;
}

/** One string under the bar, ready for its row. */
export interface StringText {
  readonly string: number;
  readonly own?: NoteText;
  readonly added: readonly AddedText[];
}

/** The strings under the bar. */
export const stringTexts = (scale: Scale, strings: readonly ScaleString[]): StringText[] =>
  strings.map(({ string, pitch, inScale, added }) => ({
    string,
    ...(inScale ? { own: noteText(scale, pitch) } : {}),
    added: added.map(({ control, pitch: to }) => ({
      ...noteText(scale, to),
      control,
      words: engagedText([control]),
    })),
  }));

/** A rung, ready for its card. */
export interface RungText {
  readonly degree: string;
  readonly fret: string;
  readonly controls: string;
  readonly strings: string;
  readonly notes: string;
  readonly spoken: string;
  readonly lines: readonly {
    readonly string: number;
    readonly tone?: { readonly text: string; readonly colour: ToneColour };
    readonly rings: boolean;
  }[];
}

/** The rungs of a ladder on the neck that they lie on. */
export const rungTexts = (setup: Setup, scale: Scale, rungs: readonly Rung[]): RungText[] =>
  rungs.map(({ degree, step }) => {
    const { hold, way, strings } = step;
    const count = setup.necks[hold.neck - 1]?.strings.length ?? 0;
    const said = toneText(degree);
    return {
      degree: said,
      fret: fretText(hold),
      controls: engagedText(way) || '–',
      strings: hold.strings.join('-'),
      notes: hold.pitches.map((midi) => prettyPitch(spelled(scale.tones, midi))).join(' '),
      spoken: `${degreeWords(said)}: fret ${fretText(hold)}, ${engagedWords(way)}, strings ${hold.strings.join(' ')}`,
      lines: Array.from({ length: count }, (_, at) => {
        const stop = hold.strings.indexOf(at + 1);
        const reached = strings.find(({ string }) => string === at + 1)?.reached;
        if (stop < 0) return { string: at + 1, rings: false };
        const { degree: text, colour } = noteText(scale, hold.pitches[stop] ?? 0);
        return {
          string: at + 1,
          tone: { text, colour },
          rings: reached !== undefined && reached !== 'picked',
        };
      }),
    };
  });
