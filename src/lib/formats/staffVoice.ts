/** One voice of a staff in ABC notation (standard 2.1): accidentals as readers expect them, beams, tuplets. */
import { alterIn } from '$lib/arrange/secondVoice';
import { reduced } from '$lib/arrange/fractions';
import type { Pitch } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import { TICKS } from './ticks';
import { valuesOf, type NoteValue } from './write/noteValues';

/** Something in a measure, from one place to another in quarter notes. */
export interface VoiceEvent {
  readonly from: number;
  readonly to: number;
  /** None for a rest. */
  readonly pitches: readonly Pitch[];
  /** The next event of these pitches is not begun anew. */
  readonly tied?: boolean;
  /** It is bound to the next one by a slur. */
  readonly slurred?: boolean;
  /** Chord symbols, annotations, decorations and grace notes, as ABC has them before a note. */
  readonly before?: string;
}

/** A measure's text, and where in it each event begins. */
export interface VoiceText {
  readonly text: string;
  readonly at: readonly number[];
  /** A slur goes on over its bar line. */
  readonly open: boolean;
}

const ACCIDENTALS: Readonly<Record<string, string>> = {
  [-2]: '__',
  [-1]: '_',
  0: '=',
  1: '^',
  2: '^^',
};

/** A note's name without an accidental: C is middle C, c the octave above. */
const nameOf = ({ letter, octave }: Pitch): string =>
  octave >= 5 ? letter.toLowerCase() + "'".repeat(octave - 5) : letter + ','.repeat(4 - octave);

/** `3/2` as a multiple of a quarter note, as the sign says it within its tuplet. */
function lengthText({ lasts, tuplet }: NoteValue): string {
  const { actual, normal } = tuplet ?? { actual: 1, normal: 1 };
  const { parts, over } = reduced(lasts.parts * actual, lasts.over * normal);
  return `${parts === 1 ? '' : String(parts)}${over === 1 ? '' : `/${String(over)}`}`;
}

interface Sign {
  readonly event: number;
  readonly value: NoteValue;
  readonly from: number;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

/** The opening of a tuplet for the signs that share it; nothing within it. */
function tupletAt(signs: readonly Sign[], at: number, open: number): readonly [string, number] {
  const tuplet = signs[at]?.value.tuplet;
  if (tuplet === undefined || at < open) return ['', open];
  let end = at;
  // as many as there are, but not over what the tuplet fills
  while (signs[end]?.value.tuplet?.actual === tuplet.actual && end - at < tuplet.actual) end++;
  return [`(${tuplet.actual}:${tuplet.normal}:${end - at}`, end];
}

/**
 * The text of a measure.
 *
 * @param beat quarter notes under one beam
 * @param slurred a slur goes on into it from the measure before
 */
export function voiceText(
  events: readonly VoiceEvent[],
  key: Key,
  beat: number,
  slurred = false,
): VoiceText {
  /** Sharps and flats that hold in the measure, by letter and octave. */
  const held = new Map<string, number>();
  const signs = events.flatMap(({ from, to }, event): Sign[] => {
    let begins = from;
    const values = valuesOf(reduced(Math.round((to - from) * TICKS), TICKS));
    return values.map((value, order): Sign => {
      const sign = {
        ...{ event, value, from: begins },
        isFirst: order === 0,
        isLast: order === values.length - 1,
      };
      begins += value.lasts.parts / value.lasts.over;
      return sign;
    });
  });
  const at: number[] = [];
  let text = '';
  let open = 0;
  let slur = slurred;
  const noteText = (pitch: Pitch): string => {
    const name = nameOf(pitch);
    const now = held.get(name) ?? alterIn(key, pitch.letter);
    held.set(name, pitch.alter);
    return `${now === pitch.alter ? '' : (ACCIDENTALS[pitch.alter] ?? '')}${name}`;
  };
  signs.forEach((sign, order) => {
    const {
      pitches,
      tied = false,
      slurred: isSlurred = false,
      before = '',
    } = events[sign.event] as VoiceEvent;
    const next = signs[order + 1];
    const [opening, end] = tupletAt(signs, order, open);
    open = end;
    if (sign.isFirst)
      at.push(text.length + (opening + before).length + (isSlurred && !slur ? 1 : 0));
    const begins = isSlurred && !slur && sign.isFirst;
    const closes = slur && !isSlurred && sign.isLast;
    if (begins) slur = true;
    const length = lengthText(sign.value);
    const body =
      pitches.length === 0
        ? `z${length}`
        : pitches.length === 1
          ? `${noteText(pitches[0] as Pitch)}${length}`
          : `[${pitches.map(noteText).join('')}]${length}`;
    const tie = pitches.length > 0 && (!sign.isLast || tied) ? '-' : '';
    const sameBeat =
      next !== undefined &&
      Math.floor(sign.from / beat + 1e-6) === Math.floor(next.from / beat + 1e-6);
    text += `${opening}${begins ? '(' : ''}${sign.isFirst ? before : ''}${body}${tie}${closes ? ')' : ''}${sameBeat ? '' : ' '}`;
    if (closes) slur = false;
  });
  return { text, at, open: slur };
}
