/** A phrase in a key as a piece, and the best way of playing it on a setup. */
import { degreeName, degreeParts } from '$lib/theory/degrees';
import { chromaOf, chromaOfName, pitchNamed, type Midi, type Pitch } from '$lib/theory/pitch';
import { readChordInKey } from '$lib/theory/readChord';
import type { Key } from '$lib/theory/spelling';
import { slantsByDefault } from '$lib/search/nutIndex';
import type { Setup } from '$lib/setup/setup';
import type { Measure, Piece, PieceNote } from '$lib/arrange/piece';
import { bestWays, type FoundWay } from '$lib/arrange/bestWays';
import { arrangementOf, readyTune, type ReadyTune, type TuneArrangement } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import type { Phrase } from './phrases';

/** Semitones of the major scale's degrees. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11];

const NOTE = /^(-|(b|#)?([1-7])([',]*)):(\d*\.?\d+)$/;

/** The tonic of the octave in which degrees without a sign lie: middle C and the eleven notes above it. */
const MIDDLE: Midi = 60;
/** Octaves away from there that are tried. */
const OCTAVES = [0, -1, 1, -2] as const;

/** A note's pitch; `undefined` for a rest. Throws on what is none: phrases are ours. */
function noteOf(text: string, { tonic }: Key, octave: number) {
  const [, sound = '', sign = '', digit = '', marks = '', lasts = ''] = NOTE.exec(text) ?? [];
  if (sound === '') throw new Error(`A note such as b3':.5 was expected, not "${text}".`);
  if (sound === '-') return { lasts: Number(lasts), pitch: 'rest' as const };
  const degree = sign + digit;
  const { number, alter } = degreeParts(degree);
  const octaves = octave + [...marks].reduce((sum, mark) => sum + (mark === "'" ? 1 : -1), 0);
  const midi =
    MIDDLE +
    chromaOf(chromaOfName(tonic) - MIDDLE) +
    (MAJOR[number - 1] ?? 0) +
    alter +
    12 * octaves;
  return { lasts: Number(lasts), pitch: pitchNamed(degreeName(tonic, degree), midi) };
}

/**
 * A phrase in a key, as it is written.
 *
 * @param octave whole octaves above where it is written; the tonic of 0 lies from middle C up
 */
export function phrasePiece(phrase: Phrase, key: Key, octave = 0): Piece {
  const chords = phrase.chords.split('|').map((each) => each.trim().split(/\s+/));
  const measures = phrase.notes.split('|').map((text, bar): Measure => {
    let at = 0;
    const notes = text
      .trim()
      .split(/\s+/)
      .map((each): PieceNote => {
        const note = { at, ...noteOf(each, key, octave) };
        at += note.lasts;
        return note;
      });
    const own = chords[bar] ?? [];
    return {
      notes,
      chords: own.map((numeral, place) => {
        const chord = readChordInKey(numeral, key);
        if (!chord.ok) throw new Error(`"${numeral}" of the phrase ${phrase.id}`);
        return { at: (place * phrase.beats) / own.length, chord: chord.value };
      }),
    };
  });
  return {
    ...{ title: phrase.name, key, tempo: phrase.tempo, measures },
    metre: { beats: phrase.beats, unit: 4 },
  };
}

/** The notes of a phrase in order. */
export const notesIn = ({ measures }: Piece): Pitch[] =>
  measures.flatMap(({ notes }) =>
    notes.flatMap(({ pitch }) => (pitch !== 'rest' && 'midi' in pitch ? [pitch] : [])),
  );

/** A phrase where it lies best. */
export interface PlacedPhrase {
  readonly phrase: Phrase;
  readonly piece: Piece;
  /** Its best way, and what of it cannot be had. */
  readonly arrangement: TuneArrangement;
}

/**
 * A phrase on a setup, in the octave where all of it can be played, or most of it, and of these where that is
 * easiest.
 *
 * @param slants the bar may be slanted; where left out, on setups without pedals
 */
export function placed(
  setup: Setup,
  phrase: Phrase,
  key: Key,
  slants = slantsByDefault(setup),
): PlacedPhrase {
  const wishes = noWishes(slants);
  const strings = setup.necks.flatMap((neck) => neck.strings.map(({ open }) => open.midi));
  const [lowest, highest] = [Math.min(...strings), Math.max(...strings) + setup.frets];
  const all = OCTAVES.map((octave) => phrasePiece(phrase, key, octave));
  const onNeck = all.filter((piece) =>
    notesIn(piece).every(({ midi }) => midi >= lowest && midi <= highest),
  );
  const textures = { texture: phrase.texture, harmony: 'changes', measures: [] } as const;
  const pieces = onNeck.length > 0 ? onNeck : all.slice(0, 1);
  const ready = pieces.map((piece) => readyTune(setup, piece, textures, wishes));
  const fewest = Math.min(...ready.map(({ lacks }) => lacks.length));
  let at = -1;
  let best: FoundWay | undefined;
  ready.forEach(({ lacks, question }, octave) => {
    if (lacks.length > fewest) return;
    // what costs as much as the one before need not be known further
    const atMost = best === undefined ? undefined : best.cost - 1;
    const [found] = bestWays({ ...question, most: 1, atMost });
    if (at < 0 || found !== undefined) [at, best] = [octave, found];
  });
  const arrangement = arrangementOf(ready[at] as ReadyTune, best === undefined ? [] : [best]);
  return { phrase, piece: pieces[at] as Piece, arrangement };
}
