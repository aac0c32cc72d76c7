/** The strings of a neck: their order, their open notes, and the octaves that are not written. */
import { fault } from '$lib/chartFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import type { SetupString } from '$lib/setup/setup';
import { chromaOfName, pitchNamed, pitchText, nameText, type Pitch } from '$lib/theory/pitch';
import type { Doubts, Piece } from './doubts';
import { nameOfWord } from './noteWord';
import {
  knownTunings,
  likeliestTuning,
  seemsReversed,
  withOctaves,
  type Ground,
  type OpenNote,
} from '$lib/setup/openOctaves';
import type { Manner } from './pull';
import type { WrittenNeck, WrittenString } from './reading';

export interface FoundStrings {
  readonly strings: readonly SetupString[];
  /** The string's number, from 0, of each written one. */
  readonly indexOf: readonly number[];
  readonly name: string;
}

/** The order of the written strings, string 1 first, as places in the list. */
function orderOf(
  strings: readonly WrittenString[],
  notes: readonly OpenNote[],
  neck: number,
  doubts: Doubts,
): number[] {
  const indices = strings.map((_, index) => index);
  const numbers = strings.map(({ number }) => number);
  if (numbers.every((number) => number !== undefined)) {
    const sorted = indices.toSorted((a, b) => (numbers[a] ?? 0) - (numbers[b] ?? 0));
    const piece = strings[sorted[0] ?? 0]?.piece;
    const isGapless = sorted.every((index, at) => numbers[index] === at + 1);
    if (!isGapless && piece !== undefined)
      doubts.tell({
        key: `numbers:${neck}`,
        piece,
        found: sorted.map((index) => numbers[index]).join(' '),
        read: `strings 1 to ${strings.length}, one after the other`,
      });
    return sorted;
  }
  const isReversed = seemsReversed(notes);
  const isPlain =
    likeliestTuning(notes) !== undefined || notes.every(({ octave }) => octave !== undefined);
  const first = strings[0]?.piece;
  if (first === undefined) return indices;
  const stands = { id: 'first', says: 'string 1 first, as it stands' };
  const last = { id: 'last', says: 'string 1 last' };
  if (!isReversed && isPlain) return indices;
  const chosen = doubts.ask({
    key: `order:${neck}`,
    piece: first,
    about: { neck },
    found: 'strings without numbers',
    choices: isReversed ? [last, stands] : [stands, last],
  });
  return chosen === 'last' ? indices.toReversed() : indices;
}

const GROUNDS: Readonly<Record<Exclude<Ground, 'written'>, string>> = {
  tuning: 'as such tunings are strung',
  gauges: 'as the gauges say',
  order: 'each string the nearest below the one before',
};

function octavesAsked(
  pitches: readonly Pitch[],
  ground: Ground,
  neck: number,
  piece: Piece,
  doubts: Doubts,
): readonly Pitch[] {
  if (ground === 'written') return pitches;
  const moved = (by: number): Pitch[] => pitches.map((pitch) => pitchNamed(pitch, pitch.midi + by));
  const textOf = (by: number): string => moved(by).map(pitchText).join(' ');
  const chosen = doubts.ask({
    key: `octaves:${neck}`,
    piece,
    about: { neck },
    found: 'open notes without octaves',
    choices: [
      { id: '0', says: `${textOf(0)}, ${GROUNDS[ground]}` },
      { id: '-12', says: `an octave lower, ${textOf(-12)}` },
      { id: '12', says: `an octave higher, ${textOf(12)}` },
    ],
  });
  return moved(Number(chosen));
}

/** A tuning's name in a text: `E9`, `C6`. */
const nameIn = (text: string): string | undefined =>
  /(?<![\p{L}\d])([A-G][b#]?(?:6|7|9|11|13))(?![\d\p{L}/])/u.exec(text)?.[1];

/** The open notes of a tuning that is only named. */
function named(
  neck: WrittenNeck,
  text: string,
  number: number,
  doubts: Doubts,
): WrittenString[] | undefined {
  const name = neck.name ?? nameIn(text);
  const least = neck.strings.length;
  const fitting = knownTunings().filter(
    (tuning) => tuning.name === name && tuning.pitches.length >= least,
  );
  const exact =
    fitting.find(({ pitches }) => pitches.length === least) ??
    fitting.find(({ pitches }) => pitches.length === 10);
  const order = [...new Set([exact, ...fitting].flatMap((tuning) => tuning ?? []))];
  if (name === undefined || order.length === 0) return undefined;
  const at = Math.max(0, text.indexOf(name));
  const chosen = doubts.ask({
    key: `tuning:${number}`,
    piece: { text: name, at },
    found: `${name}, and no open notes`,
    choices: order
      .slice(0, 4)
      .map(({ pitches }, index) => ({ id: String(index), says: pitches.map(pitchText).join(' ') })),
  });
  return order[Number(chosen)]?.pitches.map((pitch, index) => ({
    ...neck.strings.find((string) => string.number === index + 1),
    number: index + 1,
    note: { name: pitch, octave: pitch.octave, isGerman: false, isB: false },
    piece: neck.strings[index]?.piece ?? { text: name, at },
  }));
}

/** The strings of open notes that stand string 1 last, unless the player says that they do not. */
function turnedAsked(neck: WrittenNeck, number: number, doubts: Doubts): readonly WrittenString[] {
  const { strings } = neck;
  const lowest = strings.at(-1);
  if (neck.turned !== true || lowest === undefined) return strings;
  const chosen = doubts.ask({
    key: `order:${number}`,
    piece: lowest.piece,
    about: { neck: number },
    found: 'open notes without numbers',
    choices: [
      { id: 'last', says: 'string 1 last' },
      { id: 'first', says: 'string 1 first, as it stands' },
    ],
  });
  if (chosen === 'last') return strings;
  return strings.toReversed().map((string, index) => {
    const at = strings[index]?.number;
    return { ...string, ...(at === undefined ? {} : { number: at }) };
  });
}

/** The strings of a neck; a fault where an open note is missing. */
export function stringsOf(
  read: WrittenNeck,
  number: number,
  manner: Manner,
  text: string,
  doubts: Doubts,
): Result<FoundStrings, DocumentFault> {
  const neck = { ...read, strings: turnedAsked(read, number, doubts) };
  const without = neck.strings.filter(({ note }) => note === undefined);
  const written =
    without.length === 0
      ? neck.strings
      : without.length === neck.strings.length
        ? named(neck, text, number, doubts)
        : undefined;
  if (written === undefined) {
    const missing =
      without.length === neck.strings.length
        ? []
        : without.flatMap((string) => string.number ?? []);
    return refuse(fault('chart.noNotes', '', missing));
  }
  const notes = written.map((string): OpenNote => ({
    name:
      string.note === undefined
        ? { letter: 'C', alter: 0 }
        : nameOfWord(string.note, manner.germanB),
    octave: string.note?.octave,
    gauge: string.gauge,
  }));
  const order = orderOf(written, notes, number, doubts);
  const inOrder = order.flatMap((index) => notes[index] ?? []);
  const { pitches, ground } = withOctaves(inOrder);
  const piece = written[0]?.piece ?? { text: '', at: 0 };
  const opens = octavesAsked(pitches, ground, number, piece, doubts);
  const like = likeliestTuning(inOrder);
  const isLike =
    like !== undefined && like.alike >= Math.max(inOrder.length, like.tuning.pitches.length) - 2;
  return ok({
    strings: order.flatMap((index, at): SetupString[] => {
      const open = opens[at];
      const { gauge, wound } = written[index] ?? {};
      return open === undefined
        ? []
        : [
            {
              open,
              ...(gauge === undefined ? {} : { gauge }),
              ...(wound === true ? { wound } : {}),
            },
          ];
    }),
    indexOf: written.map((_, index) => order.indexOf(index)),
    name:
      neck.name ??
      (isLike
        ? like.tuning.name
        : opens
            .map((open) => nameText(open))
            .join(' ')
            .slice(0, 40)),
  });
}

/** Do two necks have the same open notes, so that they are one in two tables? */
export const sameStrings = (one: WrittenNeck, other: WrittenNeck, { germanB }: Manner): boolean => {
  const chromas = ({ strings }: WrittenNeck): string =>
    strings
      .toSorted((a, b) => (a.number ?? 0) - (b.number ?? 0))
      .map(({ note }) => (note === undefined ? '' : chromaOfName(nameOfWord(note, germanB))))
      .join(' ');
  return one.strings.length === other.strings.length && chromas(one) === chromas(other);
};
