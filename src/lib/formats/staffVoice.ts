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
  /** It goes on from the line before, which ends with the tie that leads here. */
  readonly held?: boolean;
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

/** The sign of a chord that is rolled. */
export const ROLLED = '!arpeggio!';

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
  // what draws beams puts the sign of a roll over them instead of before its chord
  const isRolled = ({ event }: Sign): boolean => events[event]?.before?.includes(ROLLED) === true;
  signs.forEach((sign, order) => {
    const {
      pitches,
      tied = false,
      slurred: isSlurred = false,
      held: isHeld = false,
      before = '',
    } = events[sign.event] as VoiceEvent;
    const next = signs[order + 1];
    // a slur that nothing begins is drawn from the beginning of the line, as the rest of a tie is
    const rest = isHeld && sign.isFirst ? ')' : '';
    const [opening, end] = tupletAt(signs, order, open);
    open = end;
    const begins = isSlurred && !slur && sign.isFirst;
    // of a chord that is held, the slur begins behind what is left of its ties, which would end it
    const within = begins && rest !== '' && pitches.length > 1;
    const slurSign = begins && !within ? '(' : '';
    if (sign.isFirst) at.push(text.length + (opening + slurSign + before).length);
    const closes = slur && !isSlurred && sign.isLast;
    if (begins) slur = true;
    const length = lengthText(sign.value);
    const body =
      pitches.length === 0
        ? `z${length}`
        : pitches.length === 1
          ? `${noteText(pitches[0] as Pitch)}${length}${rest}`
          : `[${pitches
              .map((pitch, each) => {
                const own = within && each === pitches.length - 1 ? '(' : '';
                return own + noteText(pitch) + rest;
              })
              .join('')}]${length}`;
    const tie = pitches.length > 0 && (!sign.isLast || tied) ? '-' : '';
    const sameBeat =
      next !== undefined &&
      !isRolled(sign) &&
      !isRolled(next) &&
      Math.floor(sign.from / beat + 1e-6) === Math.floor(next.from / beat + 1e-6);
    text += `${opening}${slurSign}${sign.isFirst ? before : ''}${body}${tie}${closes ? ')' : ''}${sameBeat ? '' : ' '}`;
    if (closes) slur = false;
  });
  return { text, at, open: slur };
}
