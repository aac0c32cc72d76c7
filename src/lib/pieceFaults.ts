/** What can be wrong with a piece: its measures, its chords, its melody, and how a progression is kept. */
import { DOCUMENT_SENTENCES } from './documentFaults';
import { faultsOf, type Sentences } from './faults';
import { count, piece, quoted, shown } from './faultWords';
import { KEY_SENTENCES } from './keyFaults';

const A_HARMONY = 'a root and a kind of chord with tones of its own';
const A_PROGRESSION = 'a progression';
const SOMETHING_ELSE = 'something else';

export const PIECE_SENTENCES = {
  ...DOCUMENT_SENTENCES,
  ...KEY_SENTENCES,

  // a stored progression
  'progression.notJson': () => ['text that is not JSON', A_PROGRESSION],
  'progression.notAnObject': () => [SOMETHING_ELSE, A_PROGRESSION],
  'progression.format': (format: unknown, present: number) => [
    JSON.stringify(format) ?? shown(undefined),
    `${present}; a higher number comes from a newer Gripwright`,
  ],
  'progression.setup': () => [SOMETHING_ELSE, 'the id of a setup'],
  'progression.text': () => [SOMETHING_ELSE, 'a text'],
  'progression.wishes': () => [SOMETHING_ELSE, 'preferences by their parts'],

  // chords in bars, song texts and scores: a piece as a whole
  'piece.noBars': () => ['nothing', 'chords in measures, such as C | Am7 | Dm7 G7 | C'],
  'piece.noChordsInSong': () => [
    'no chords',
    'chords in brackets in the words, on lines above them, or in a grid',
  ],
  'piece.noChorus': () => ['a chorus again', 'a chorus before it'],
  'piece.transpose': (text: string, most: number) => [
    quoted(text),
    `semitones up or down, ${most} at most`,
  ],
  'piece.signLost': (sign: string) => [
    `a way to ${sign} that is nowhere`,
    `${sign} further on, or before`,
  ],
  'piece.noChordsInScore': () => ['no chords', 'chord symbols over the tune'],
  'piece.noTune': () => ['no tune', 'a tune in ABC notation, with chords in quotation marks'],
  'piece.tooManyChords': (most: number) => [
    'more chords',
    `${most} chords at once; what follows is left out`,
  ],
  'piece.tooManyFaults': (most: number) => [
    'more that cannot be read',
    `${most} such places at most; what else cannot be read is not told`,
  ],
  'line.tooLong': (length: number, most: number) => [
    `a line of ${length} characters`,
    `at most ${most} characters in a line`,
  ],

  // its head
  'head.tempo': (text: string, least: number, most: number) => [
    quoted(text),
    `quarter notes a minute, ${least} to ${most}`,
  ],
  'head.metre': (text: string) => [quoted(text), 'a metre such as 4/4, 3/4 or 6/8'],

  // its chords; `reason` is why a symbol is none
  'chord.unreadable': (symbol: string, reason: string) => [
    quoted(symbol),
    `a chord symbol (${reason})`,
  ],
  'chord.otherwise': (symbol: string, meant: string) => [
    quoted(symbol),
    `a chord symbol; it ${meant}`,
  ],
  'bar.empty': () => [
    'an empty measure',
    'a chord, % for the measure before, or N.C. between measure lines',
  ],
  'bar.repeatedWithoutRepeat': (text: string) => [
    quoted(text),
    'a number of times only after a repeat, such as :|x3',
  ],
  'bar.nothingBefore': () => [quoted('%'), 'a measure before it, which it repeats'],
  'section.unnamed': (text: string) => [
    quoted(text),
    'the name of a section in brackets, such as [Verse]',
  ],
  'chord.nothingToHold': (text: string) => [quoted(text), 'a chord first, which it then holds on'],
  'harmony.withoutRoot': () => ['a harmony without a root', A_HARMONY],
  'harmony.unknownKind': (kind: string) => [`a harmony of the kind ${quoted(kind)}`, A_HARMONY],
  'harmony.impossibleDegree': (degree: string) => [`a degree ${degree} that cannot be`, A_HARMONY],
  'harmony.ofOneTone': () => ['a harmony of one tone', A_HARMONY],

  // its melody
  'melody.atChord': (text: string) => [
    quoted(text),
    'a melody note such as E4, or E for any octave',
  ],
  'melody.inLine': (text: string) => [
    piece(text),
    'a melody note such as E4, E for any octave, or - for none',
  ],
  'melody.tooManyNotes': (text: string, chords: number) => [
    piece(text),
    `${count(chords, 'note')} here, one for each chord`,
  ],
  'melody.tooManyBars': (text: string, bars: number) => [
    piece(text),
    `${count(bars, 'measure')} of melody, as there are of chords`,
  ],
  'melody.withoutChords': () => ['a melody', 'a line of chords above it'],
} satisfies Sentences;

export const { fault, told } = /* @__PURE__ */ faultsOf(PIECE_SENTENCES);
