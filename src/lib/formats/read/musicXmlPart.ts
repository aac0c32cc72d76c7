/** One part of a MusicXML score, measure by measure. */
import { noteName, parseNoteName, pitchOf, type Pitch } from '$lib/theory/pitch';
import { movedByFifths, type Key } from '$lib/theory/spelling';
import { addFault, type Metre, type ProgressionFault } from '$lib/arrange/progression';
import { Beyond, type BeyondKind } from './beyond';
import { readHarmony } from './harmony';
import { metronomeIn, orderSigns, rehearsalIn, tempoIn } from './musicXmlSigns';
import { TICKS } from '../ticks';
import { type ScoreBar, type ScoreChord, type ScoreNote } from './score';
import { childOf, numberOf, textOf, type XmlElement } from './xml';

type Draft<T> = { -readonly [key in keyof T]: T[key] };

function pitchIn(note: XmlElement): Pitch | undefined {
  const pitch = childOf(note, 'pitch');
  const letter = parseNoteName(textOf(pitch, 'step') ?? '')?.letter;
  const octave = numberOf(pitch, 'octave');
  // quarter tones sound between the strings' notes; the nearest is taken
  const alter = Math.max(-2, Math.min(2, Math.round(numberOf(pitch, 'alter') ?? 0)));
  if (letter === undefined || octave === undefined) return undefined;
  return pitchOf(noteName(letter, alter), octave);
}

/** Verses that are read. */
const MOST_VERSES = 8;

/** The syllables under a note by verse, with a hyphen where the word goes on. */
function lyricsIn(note: XmlElement): (string | undefined)[] | undefined {
  const lyrics: (string | undefined)[] = [];
  for (const lyric of note.children) {
    if (lyric.name !== 'lyric') continue;
    const verse = Number(/\d+/u.exec(lyric.attributes['number'] ?? '1')?.[0] ?? 1);
    const text = textOf(lyric, 'text');
    if (text === undefined || verse < 1 || verse > MOST_VERSES) continue;
    const goesOn = /^(begin|middle)$/u.test(textOf(lyric, 'syllabic') ?? '');
    while (lyrics.length < verse) lyrics.push(undefined);
    lyrics[verse - 1] = goesOn ? `${text}-` : text;
  }
  return lyrics.length === 0 ? undefined : lyrics;
}

const isTied = (note: XmlElement): boolean =>
  note.children.some(({ name, attributes }) => name === 'tie' && attributes['type'] === 'start');

/** By how many a note changes the slurs that are open. */
const slursAt = (note: XmlElement): number =>
  (childOf(note, 'notations')?.children ?? []).reduce((sum, { name, attributes }) => {
    if (name !== 'slur') return sum;
    return sum + (attributes['type'] === 'start' ? 1 : attributes['type'] === 'stop' ? -1 : 0);
  }, 0);

const sameMetre = (a: Metre, b: Metre | undefined): boolean =>
  a.beats === b?.beats && a.unit === b.unit;
const sameKey = (a: Key, b: Key | undefined): boolean =>
  a.mode === b?.mode && a.tonic.letter === b.tonic.letter && a.tonic.alter === b.tonic.alter;

/** What a measure has while it is walked through. */
class MeasureDraft {
  readonly chords: ScoreChord[] = [];
  readonly notes: ScoreNote[] = [];
  readonly tempos: { at: number; tempo: number }[] = [];
  readonly signs: Draft<
    Pick<ScoreBar, 'metre' | 'key' | 'section' | 'segno' | 'coda' | 'toCoda' | 'fine' | 'jump'>
  > = {};
  times: number | undefined;
  at = 0;
  /** Where the note before began, with which notes of its chord do. */
  last = 0;
  end = 0;
  startsPasses = false;
  endsPasses = false;
}

/** Walks through the measures of one part. */
export class Part {
  readonly bars: ScoreBar[] = [];
  readonly faults: ProgressionFault[] = [];
  /** As the score begins. */
  key: Key | undefined;
  metre: Metre | undefined;
  tempo: number | undefined;
  /** Semitones from what is written to what sounds. */
  transposition = 0;
  noteCount = 0;
  /** What of it has no place in a piece. */
  readonly beyond = new Beyond();
  /** The first voice of the staff that is read. */
  #voice: string | undefined;
  /** The measure that is walked through, as it is numbered. */
  #number = '';
  hasChords = false;
  hasLyrics = false;
  #key: Key | undefined;
  #metre: Metre | undefined;
  #tempo: number | undefined;
  #divisions = 1;
  #slurs = 0;
  #passes: readonly number[] | undefined;
  /** The measure before ended with the sign that opens a repeat. */
  #opened = false;

  measure(measure: XmlElement): void {
    this.#number = measure.attributes['number'] ?? String(this.bars.length + 1);
    const draft = new MeasureDraft();
    let repeatFrom = this.#opened;
    this.#opened = false;
    for (const element of measure.children) {
      const duration = this.#ticks(Math.max(0, numberOf(element, 'duration') ?? 0));
      if (element.name === 'attributes') this.#attributes(element, draft);
      else if (element.name === 'backup') draft.at = Math.max(0, draft.at - duration);
      else if (element.name === 'forward') draft.at += duration;
      else if (element.name === 'note') this.#note(element, duration, draft);
      else if (element.name === 'harmony') this.#harmony(element, draft);
      else if (element.name === 'direction' || element.name === 'sound')
        this.#direction(element, draft);
      else if (element.name === 'figured-bass') this.beyond.add('figuredBass', this.#number);
      else if (element.name === 'barline') repeatFrom = this.#barline(element, draft) || repeatFrom;
      draft.end = Math.max(draft.end, draft.at);
    }
    this.#close(draft, repeatFrom);
  }

  #ticks(amount: number): number {
    return Math.round((amount * TICKS) / this.#divisions);
  }

  #note(element: XmlElement, duration: number, draft: MeasureDraft): void {
    this.#tellBeyond(element);
    if (childOf(element, 'cue')) return;
    const inChord = childOf(element, 'chord') !== undefined;
    const grace = childOf(element, 'grace') !== undefined;
    const length = grace ? 0 : duration;
    const pitch = pitchIn(element);
    if (!inChord) this.#slurs = Math.max(0, this.#slurs + slursAt(element));
    const lyrics = lyricsIn(element);
    this.hasLyrics ||= lyrics !== undefined;
    if (pitch !== undefined && (numberOf(element, 'staff') ?? 1) === 1)
      draft.notes.push({
        at: inChord ? draft.last : draft.at,
        length,
        pitch,
        tied: isTied(element),
        slurred: this.#slurs > 0,
        ...(lyrics === undefined ? {} : { lyrics }),
      });
    if (inChord) return;
    draft.last = draft.at;
    draft.at += length;
  }

  #tellBeyond(element: XmlElement): void {
    const tell = (kind: BeyondKind): void => {
      this.beyond.add(kind, this.#number);
    };
    if (childOf(element, 'cue')) {
      tell('cue');
      return;
    }
    if (childOf(element, 'unpitched')) tell('percussion');
    const pitch = childOf(element, 'pitch');
    if (pitch === undefined) return;
    if ((numberOf(element, 'staff') ?? 1) !== 1) {
      tell('staff');
      return;
    }
    if (!Number.isInteger(numberOf(pitch, 'alter') ?? 0)) tell('quarterTone');
    const voice = textOf(element, 'voice') ?? '1';
    this.#voice ??= voice;
    if (voice !== this.#voice) tell('voice');
    else if (childOf(element, 'chord')) tell('lower');
  }

  #harmony(element: XmlElement, { at, chords }: MeasureDraft): void {
    this.hasChords = true;
    const chord = readHarmony(element);
    const begins = Math.max(0, at + this.#ticks(numberOf(element, 'offset') ?? 0));
    if (typeof chord === 'object' && 'found' in chord) {
      const where = `measure ${this.#number}`;
      addFault(this.faults, () => ({ where, ...chord }));
      chords.push({ at: begins, chord: 'no chord' });
    } else chords.push({ at: begins, chord });
  }

  #direction(element: XmlElement, { at, signs, tempos }: MeasureDraft): void {
    const section = rehearsalIn(element);
    if (section !== undefined) signs.section ??= section;
    const sound = element.name === 'sound' ? element : childOf(element, 'sound');
    const tempo = tempoIn(sound) ?? metronomeIn(element);
    if (tempo !== undefined) {
      this.tempo ??= tempo;
      const place = Math.max(0, at + this.#ticks(numberOf(element, 'offset') ?? 0));
      if (this.#tempo !== undefined && tempo !== this.#tempo) tempos.push({ at: place, tempo });
      this.#tempo = tempo;
    }
    Object.assign(signs, orderSigns(element));
  }

  /** Whether it opens a repeat here. */
  #barline(element: XmlElement, draft: MeasureDraft): boolean {
    const repeat = childOf(element, 'repeat');
    const ending = childOf(element, 'ending');
    let opens = false;
    if (repeat?.attributes['direction'] === 'forward') {
      if (element.attributes['location'] === 'left' || draft.at === 0) opens = true;
      else this.#opened = true;
    }
    if (repeat?.attributes['direction'] === 'backward')
      draft.times = Number(repeat.attributes['times'] ?? 2) || 2;
    if (ending?.attributes['type'] === 'start') {
      draft.startsPasses = true;
      this.#passes = (ending.attributes['number'] ?? '')
        .split(/[,\s]+/u)
        .map(Number)
        .filter((n) => n > 0);
    } else if (ending !== undefined) draft.endsPasses = true;
    return opens;
  }

  #close(draft: MeasureDraft, repeatFrom: boolean): void {
    const { chords, notes, tempos, signs, times, end, startsPasses, endsPasses } = draft;
    this.noteCount += notes.length;
    // a new section has endings of its own
    if (repeatFrom && !startsPasses) this.#passes = undefined;
    const { beats, unit } = this.#metre ?? { beats: 4, unit: 4 };
    this.bars.push({
      ...signs,
      length: end > 0 ? end : (beats * 4 * TICKS) / unit,
      chords,
      notes,
      ...(tempos.length === 0 ? {} : { tempos }),
      ...(repeatFrom ? { repeatFrom } : {}),
      ...(times === undefined ? {} : { times }),
      ...(this.#passes === undefined || this.#passes.length === 0 ? {} : { passes: this.#passes }),
    });
    if (endsPasses) this.#passes = undefined;
  }

  #attributes(element: XmlElement, { signs }: MeasureDraft): void {
    const divisions = numberOf(element, 'divisions');
    if (divisions !== undefined && divisions > 0) this.#divisions = divisions;
    const time = childOf(element, 'time');
    const beats = numberOf(time, 'beats');
    const unit = numberOf(time, 'beat-type');
    if (beats !== undefined && unit !== undefined) {
      const metre = { beats, unit };
      if (this.#metre !== undefined && !sameMetre(metre, this.#metre)) signs.metre = metre;
      this.#metre = metre;
      this.metre ??= metre;
    }
    const key = childOf(element, 'key');
    const fifths = numberOf(key, 'fifths');
    const mode = textOf(key, 'mode') ?? 'major';
    if (fifths !== undefined && Math.abs(fifths) <= 7 && (mode === 'major' || mode === 'minor')) {
      const tonic = movedByFifths(noteName(mode === 'minor' ? 'A' : 'C', 0), fifths);
      const now: Key = { tonic, mode };
      if (this.#key !== undefined && !sameKey(now, this.#key)) signs.key = now;
      this.#key = now;
      this.key ??= now;
    }
    const transpose = childOf(element, 'transpose');
    if (transpose !== undefined)
      this.transposition =
        (numberOf(transpose, 'chromatic') ?? 0) + 12 * (numberOf(transpose, 'octave-change') ?? 0);
  }
}
