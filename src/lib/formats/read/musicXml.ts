/** Chords and tune of a MusicXML score (4.0 and before; `score-partwise`). */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/scoreFaults';
import { ok, refuse, type Result } from '$lib/result';
import { noteName, parseNoteName, pitchOf, type Pitch } from '$lib/theory/pitch';
import { movedByFifths, type Key } from '$lib/theory/spelling';
import {
  addFault,
  type Metre,
  type ProgressionFault,
  type ReadProgression,
} from '$lib/arrange/progression';
import { transposed } from '$lib/arrange/transposed';
import { readHarmony } from './harmony';
import {
  TICKS,
  headOf,
  progressionOf,
  type ScoreBar,
  type ScoreChord,
  type ScoreNote,
} from './score';
import { childOf, numberOf, readXml, textOf, type XmlElement } from './xml';

function pitchIn(note: XmlElement): Pitch | undefined {
  const pitch = childOf(note, 'pitch');
  const letter = parseNoteName(textOf(pitch, 'step') ?? '')?.letter;
  const octave = numberOf(pitch, 'octave');
  // quarter tones sound between the strings' notes; the nearest is taken
  const alter = Math.max(-2, Math.min(2, Math.round(numberOf(pitch, 'alter') ?? 0)));
  if (letter === undefined || octave === undefined) return undefined;
  return pitchOf(noteName(letter, alter), octave);
}

/** Walks through the measures of one part. */
class Part {
  readonly bars: ScoreBar[] = [];
  readonly faults: ProgressionFault[] = [];
  key: Key | undefined;
  metre: Metre | undefined;
  tempo: number | undefined;
  /** Semitones from what is written to what sounds. */
  transposition = 0;
  noteCount = 0;
  #divisions = 1;
  #passes: number[] | undefined;
  /** The measure before ended with the sign that opens a repeat. */
  #opened = false;

  measure(measure: XmlElement): void {
    const chords: ScoreChord[] = [];
    const notes: ScoreNote[] = [];
    let section: string | undefined;
    let repeatFrom = this.#opened;
    this.#opened = false;
    let times: number | undefined;
    let at = 0;
    let last = 0;
    let end = 0;
    let startsPasses = false;
    let endsPasses = false;
    const ticks = (amount: number): number => Math.round((amount * TICKS) / this.#divisions);
    for (const element of measure.children) {
      const duration = ticks(Math.max(0, numberOf(element, 'duration') ?? 0));
      switch (element.name) {
        case 'attributes':
          this.#attributes(element);
          break;
        case 'backup':
          at = Math.max(0, at - duration);
          break;
        case 'forward':
          at += duration;
          break;
        case 'note': {
          if (childOf(element, 'grace') || childOf(element, 'cue')) break;
          const begins = childOf(element, 'chord') ? last : at;
          const pitch = pitchIn(element);
          if (pitch !== undefined && (numberOf(element, 'staff') ?? 1) === 1)
            notes.push({ at: begins, length: duration, pitch });
          if (!childOf(element, 'chord')) {
            last = at;
            at += duration;
          }
          break;
        }
        case 'harmony': {
          const chord = readHarmony(element);
          const begins = Math.max(0, at + ticks(numberOf(element, 'offset') ?? 0));
          if (typeof chord === 'object' && 'found' in chord) {
            const where = `measure ${measure.attributes['number'] ?? String(this.bars.length + 1)}`;
            addFault(this.faults, () => ({ where, ...chord }));
            chords.push({ at: begins, chord: 'no chord' });
          } else chords.push({ at: begins, chord });
          break;
        }
        case 'direction':
          section ??= rehearsalIn(element);
          this.tempo ??= tempoIn(childOf(element, 'sound')) ?? metronomeIn(element);
          break;
        case 'sound':
          this.tempo ??= tempoIn(element);
          break;
        case 'barline': {
          const repeat = childOf(element, 'repeat');
          const ending = childOf(element, 'ending');
          if (repeat?.attributes['direction'] === 'forward') {
            if (element.attributes['location'] === 'left' || at === 0) repeatFrom = true;
            else this.#opened = true;
          }
          if (repeat?.attributes['direction'] === 'backward')
            times = Number(repeat.attributes['times'] ?? 2) || 2;
          if (ending?.attributes['type'] === 'start') {
            startsPasses = true;
            this.#passes = (ending.attributes['number'] ?? '')
              .split(/[,\s]+/u)
              .map(Number)
              .filter((n) => n > 0);
          } else if (ending !== undefined) endsPasses = true;
          break;
        }
      }
      end = Math.max(end, at);
    }
    this.noteCount += notes.length;
    // a new section has endings of its own
    if (repeatFrom && !startsPasses) this.#passes = undefined;
    const { beats, unit } = this.metre ?? { beats: 4, unit: 4 };
    this.bars.push({
      length: end > 0 ? end : (beats * 4 * TICKS) / unit,
      chords,
      notes,
      ...(section === undefined ? {} : { section }),
      ...(repeatFrom ? { repeatFrom } : {}),
      ...(times === undefined ? {} : { times }),
      ...(this.#passes === undefined || this.#passes.length === 0 ? {} : { passes: this.#passes }),
    });
    if (endsPasses) this.#passes = undefined;
  }

  #attributes(element: XmlElement): void {
    const divisions = numberOf(element, 'divisions');
    if (divisions !== undefined && divisions > 0) this.#divisions = divisions;
    const time = childOf(element, 'time');
    const beats = numberOf(time, 'beats');
    const unit = numberOf(time, 'beat-type');
    if (beats !== undefined && unit !== undefined) this.metre ??= { beats, unit };
    const key = childOf(element, 'key');
    const fifths = numberOf(key, 'fifths');
    const mode = textOf(key, 'mode') ?? 'major';
    if (fifths !== undefined && Math.abs(fifths) <= 7 && (mode === 'major' || mode === 'minor'))
      this.key ??= {
        tonic: movedByFifths(noteName(mode === 'minor' ? 'A' : 'C', 0), fifths),
        mode,
      };
    const transpose = childOf(element, 'transpose');
    if (transpose !== undefined)
      this.transposition =
        (numberOf(transpose, 'chromatic') ?? 0) + 12 * (numberOf(transpose, 'octave-change') ?? 0);
  }
}

const rehearsalIn = (direction: XmlElement): string | undefined => {
  for (const type of direction.children) {
    const text = textOf(type, 'rehearsal');
    if (text) return text;
  }
  return undefined;
};

function tempoIn(sound: XmlElement | undefined): number | undefined {
  const tempo = Number(sound?.attributes['tempo'] ?? NaN);
  return tempo > 0 ? tempo : undefined;
}

const QUARTERS: Readonly<Record<string, number>> = {
  whole: 4,
  half: 2,
  quarter: 1,
  eighth: 0.5,
  '16th': 0.25,
};

function metronomeIn(direction: XmlElement): number | undefined {
  for (const type of direction.children) {
    const metronome = childOf(type, 'metronome');
    const beat = QUARTERS[textOf(metronome, 'beat-unit') ?? ''];
    const minute = numberOf(metronome, 'per-minute');
    if (beat === undefined || minute === undefined) continue;
    return minute * beat * (childOf(metronome, 'beat-unit-dot') ? 1.5 : 1);
  }
  return undefined;
}

/** In a part; a longer one is more than any piece. */
const MOST_MEASURES = 20_000;
const MOST_NOTES = 50_000;

/** What of a score stays in the tree: the titles, and the parts without their measures. */
const KEPT: ReadonlySet<string> = new Set(['work', 'movement-title', 'part']);

/** Reads the chords of a score, and the tune on the first staff of the part that has them. */
export function readMusicXml(text: string): Result<ReadProgression, DocumentFault> {
  // the part to read is the first that has chords, else the first
  let first: Part | undefined;
  let found: Part | undefined;
  let current: { walk: Part; hasChords: boolean } | undefined;
  let tooMany: DocumentFault | undefined;
  const read = readXml(text, (element, within) => {
    if (within.length === 1 && element.name === 'part') {
      first ??= current?.walk ?? new Part();
      if (current?.hasChords) found ??= current.walk;
      current = undefined;
    }
    if (within.length === 1) return !KEPT.has(element.name);
    if (within.length !== 2 || within[1]?.name !== 'part') return false;
    if (element.name === 'measure' && found === undefined && tooMany === undefined) {
      current ??= { walk: new Part(), hasChords: false };
      current.walk.measure(element);
      current.hasChords ||= childOf(element, 'harmony') !== undefined;
      tooMany = overfull(current.walk);
    }
    return true;
  });
  if (!read.ok) return read;
  const score = read.value;
  if (score.name !== 'score-partwise') return refuse(fault('score.root', '', score.name));
  if (tooMany !== undefined) return refuse(tooMany);
  const walk = found ?? first;
  if (walk === undefined) return refuse(fault('score.noParts', ''));
  const title = textOf(childOf(score, 'work'), 'work-title') ?? textOf(score, 'movement-title');
  const head = headOf({ title, key: walk.key, tempo: walk.tempo, metre: walk.metre });
  const piece = progressionOf(head, walk.bars, walk.faults);
  return ok(
    walk.transposition === 0
      ? piece
      : { ...piece, progression: transposed(piece.progression, walk.transposition) },
  );
}

function overfull({ bars, noteCount }: Part): DocumentFault | undefined {
  if (bars.length > MOST_MEASURES) return fault('score.tooMany', '', MOST_MEASURES, 'measures');
  if (noteCount > MOST_NOTES) return fault('score.tooMany', '', MOST_NOTES, 'notes');
  return undefined;
}
