/** What of a note or chord can be played at all: its candidates, and what they lack. */
import type { Chord } from '$lib/theory/chord';
import { chromaOf, pitchNamed, type Pitch } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { narrowed } from '$lib/engine/narrowed';
import { asWished, type NoteWishes } from './noteWishes';
import type { Onset } from './onsets';
import { prepare } from './prepared';
import { TONES, highestOn, toneStageOf, tones, type ToneStage } from './toneStage';
import type { Wishes } from './wishes';

/**
 * The second voice, or the chord, that no string can give with a note; the note or chord itself; or what was
 * wished of it, without which it is played.
 */
export type Lacking = 'second' | 'chord' | 'all' | 'wish';

/** What can be played at a moment; where that is less than was asked for, what it lacks. */
export interface FoundTones {
  readonly tones?: ToneStage;
  readonly lacks?: Lacking;
}

/**
 * The candidates of a moment as it is struck.
 *
 * @param above semitones by which what is touched there sounds above what the bar stops; 0 for none
 */
export function tonesAt(
  setup: Setup,
  wishes: Wishes,
  onset: Onset,
  own: NoteWishes | undefined,
  above: number,
): FoundTones {
  if (above === 0 || onset.melody === undefined) return stageFor(setup, wishes, onset, own);
  const found = stageFor(setup, wishes, belowHarmonic(onset, above), own);
  // a chord that is touched for its twelfths is another one: its note on top is played alone
  if (found.tones !== undefined)
    return onset.asChord && above % 12 !== 0 ? { lacks: 'chord', ...found } : found;
  // where no string is low enough it is played as it is written
  return { lacks: 'wish', ...stageFor(setup, wishes, onset, own) };
}

/** What the bar stops where harmonics are to sound as it is written. */
function belowHarmonic({ melody, second, ...onset }: Onset, above: number): Onset {
  const lower = ({ letter, alter, midi }: Pitch): Pitch => {
    const name = above % 12 === 0 ? { letter, alter } : plainName(chromaOf(midi - above));
    return pitchNamed(name, midi - above);
  };
  return {
    ...onset,
    asChord: onset.asChord && above % 12 === 0,
    ...(melody === undefined ? {} : { melody: lower(melody) }),
    ...(second === undefined ? {} : { second: lower(second) }),
  };
}

/** The candidates of a moment; with less where there are none with all of it. */
function stageFor(
  setup: Setup,
  wishes: Wishes,
  onset: Onset,
  own: NoteWishes | undefined,
): FoundTones {
  const { melody, second, chord, asChord } = onset;
  const wished = (all: ToneStage): ToneStage | undefined => {
    const left = own === undefined ? all : withWishes(wishes, all, own, melody);
    return left.stage.layer.count > 0 ? left : undefined;
  };
  if (asChord && chord !== undefined) {
    const voiced = voicings(setup, wishes, chord, melody, wished);
    if (voiced !== undefined) return { tones: voiced };
  } else if (melody !== undefined && second !== undefined) {
    const both = wished(tones(setup, wishes, [second.midi, melody.midi]));
    if (both !== undefined) return { tones: both };
  }
  if (melody !== undefined) {
    const alone = wished(tones(setup, wishes, [melody.midi]));
    if (alone !== undefined)
      return {
        tones: alone,
        ...(asChord ? { lacks: 'chord' } : second === undefined ? {} : { lacks: 'second' }),
      };
  }
  if (own === undefined) return { lacks: 'all' };
  // what is asked of it cannot be had: it is played freely rather than not at all
  const free = stageFor(setup, wishes, onset, undefined);
  return free.tones === undefined ? free : { ...free, lacks: 'wish' };
}

/** The candidates that are as wished. */
function withWishes(
  { balance }: Wishes,
  all: ToneStage,
  own: NoteWishes,
  melody: Pitch | undefined,
): ToneStage {
  const layer = asWished(all.stage.layer, own);
  const left = toneStageOf(layer, all.indexes, balance);
  const { tuneOn } = own;
  // where the tune rests no string has it
  if (tuneOn === undefined || melody === undefined) return left;
  const on = narrowed(layer, (candidate) => highestOn(left, candidate).includes(tuneOn)).layer;
  return toneStageOf(on, all.indexes, balance);
}

/** Voicings of a chord with a note on top: as chords are arranged, else without the root, else on two strings. */
function voicings(
  setup: Setup,
  wishes: Wishes,
  chord: Chord,
  melody: Pitch | undefined,
  wished: (all: ToneStage) => ToneStage | undefined,
): ToneStage | undefined {
  const asked: Wishes[] = [
    wishes,
    { ...wishes, match: 'rootless', bass: 'band', must: [] },
    { ...wishes, match: 'rootless', bass: 'band', must: [], sizes: [2, 2] },
  ];
  for (const each of asked) {
    const place = { bar: 0, slot: 0, start: 0, length: 1, share: 1 };
    const step = { ...place, chord, ...(melody === undefined ? {} : { melody }) };
    const free: Wishes = { ...each, melody: 'exact', steps: new Map() };
    const { layer, indexes, remember } = prepare(setup, free, step, 0);
    const found =
      layer.count > 0
        ? wished(remember(TONES, () => toneStageOf(layer, indexes, wishes.balance)))
        : undefined;
    if (found !== undefined) return found;
  }
  return undefined;
}
