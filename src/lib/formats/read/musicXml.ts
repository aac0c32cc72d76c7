/** Chords and tune of a MusicXML score (4.0 and before; `score-partwise`). */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/scoreFaults';
import { ok, refuse, type Result } from '$lib/result';

import { nearestFifths, transposed, transposedPiece } from '$lib/arrange/transposed';
import { pitchNamed } from '$lib/theory/pitch';
import { movedByFifths } from '$lib/theory/spelling';
import type { NotTaken } from '$lib/arrange/progression';
import { leftOut } from './beyond';
import { Part } from './musicXmlPart';
import { TUNE_NAME, headOf, progressionOf, settled, type ReadPiece, type ScoreBar } from './score';
import { childOf, readXml, textOf, type XmlElement } from './xml';

/** In a part; a longer one is more than any piece. */
const MOST_MEASURES = 20_000;
const MOST_NOTES = 50_000;

/** What of a score stays in the tree: titles, names of parts, and the parts without their measures. */
const KEPT: ReadonlySet<string> = new Set(['work', 'movement-title', 'part-list', 'part']);

/** A part's name in the list of parts. */
function nameOf(score: XmlElement | undefined, id: string | undefined): string {
  const list = childOf(score, 'part-list')?.children ?? [];
  const part = list.find(
    ({ name, attributes }) => name === 'score-part' && attributes['id'] === id,
  );
  return textOf(part, 'part-name') ?? '';
}

/** The parts of a score that are wanted; of the others nothing is kept. */
class Parts {
  first: Part | undefined;
  /** The first with chords. */
  chords: Part | undefined;
  /** The first that is sung. */
  sung: Part | undefined;
  /** The first that is called the tune. */
  named: Part | undefined;
  /** The names of all that have notes, in order. */
  readonly #names: { readonly part: Part; readonly name: string }[] = [];

  take(part: Part, name: string): void {
    const isNamed = TUNE_NAME.test(name);
    if (part.noteCount > 0) this.#names.push({ part, name });
    this.first ??= part;
    if (part.hasChords) this.chords ??= part;
    if (part.hasLyrics) this.sung ??= part;
    if (isNamed && part.noteCount > 0) this.named ??= part;
  }

  /** What is not taken of the score, where these are. */
  notTaken({ chords, tune }: { readonly chords: Part; readonly tune: Part }): NotTaken[] {
    const others = this.#names.filter(({ part }) => part !== chords && part !== tune);
    const ofChords = chords === tune ? [] : [...this.#names].filter(({ part }) => part === chords);
    return [
      ...tune.beyond.list(),
      ...ofChords.map(({ name }) => ({
        where: '',
        words: `of the part ${name === '' ? 'with the chords' : `“${name}”`} the chords are taken, not the notes`,
      })),
      ...leftOut(
        'part',
        others.map(({ name }) => name),
      ),
    ];
  }

  /** What the chords are of, and whose notes are the tune: those that are sung, or called so. */
  get chosen(): { readonly chords: Part; readonly tune: Part } | undefined {
    const chords = this.chords ?? this.first;
    if (chords === undefined) return undefined;
    return { chords, tune: chords.hasLyrics ? chords : (this.sung ?? this.named ?? chords) };
  }
}

/** The tune of one part over the chords of another, measure by measure, at the pitch that sounds. */
function together(chords: Part, tune: Part): ScoreBar[] {
  if (chords === tune) return chords.bars;
  const up = tune.transposition - chords.transposition;
  const fifths = nearestFifths(up);
  return chords.bars.map((bar, at) => {
    const notes = tune.bars[at]?.notes ?? [];
    const moved =
      up === 0
        ? notes
        : notes.map((note) => ({
            ...note,
            pitch: pitchNamed(movedByFifths(note.pitch, fifths), note.pitch.midi + up),
          }));
    return { ...bar, notes: moved };
  });
}

/** Reads the chords of a score, and the tune: of the part that is sung, else of the one with the chords. */
export function readMusicXml(text: string): Result<ReadPiece, DocumentFault> {
  const parts = new Parts();
  let current: Part | undefined;
  let tooMany: DocumentFault | undefined;
  const read = readXml(text, (element, within) => {
    if (within.length === 1 && element.name === 'part') {
      parts.take(current ?? new Part(), nameOf(within[0], element.attributes['id']));
      current = undefined;
    }
    if (within.length === 1) return !KEPT.has(element.name);
    if (within.length !== 2 || within[1]?.name !== 'part') return false;
    if (element.name === 'measure' && tooMany === undefined) {
      current ??= new Part();
      current.measure(element);
      tooMany = overfull(current);
    }
    return true;
  });
  if (!read.ok) return read;
  const score = read.value;
  if (score.name !== 'score-partwise') return refuse(fault('score.root', '', score.name));
  if (tooMany !== undefined) return refuse(tooMany);
  const { chosen } = parts;
  if (chosen === undefined) return refuse(fault('score.noParts', ''));
  const { chords, tune } = chosen;
  const title = textOf(childOf(score, 'work'), 'work-title') ?? textOf(score, 'movement-title');
  const head = headOf({
    title,
    key: chords.key,
    tempo: chords.tempo ?? parts.first?.tempo,
    metre: chords.metre,
  });
  const piece = {
    ...progressionOf(head, settled(together(chords, tune)), chords.faults),
    notTaken: parts.notTaken(chosen),
  };
  return ok(
    chords.transposition === 0
      ? piece
      : {
          ...piece,
          progression: transposed(piece.progression, chords.transposition),
          piece: transposedPiece(piece.piece, chords.transposition),
        },
  );
}

function overfull({ bars, noteCount }: Part): DocumentFault | undefined {
  if (bars.length > MOST_MEASURES) return fault('score.tooMany', '', MOST_MEASURES, 'measures');
  if (noteCount > MOST_NOTES) return fault('score.tooMany', '', MOST_NOTES, 'notes');
  return undefined;
}
