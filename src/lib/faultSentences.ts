/**
 * The sentences of what can be wrong with the documents that people give us: the one table, by codes. A
 * row takes what its sentence is made of, and gives what was found and what would be right there.
 * `faults.ts` makes faults of it; nothing else looks in here.
 */

/** What was found, and what would be right there. */
export type Sentence = readonly [found: string, allowed: string];

/** A value, short enough for a line: `7`, `“Z9”`, `a list of 15`, `nothing`. */
function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'string')
    return value.length > 60 ? `a text of ${value.length} characters` : quoted(value);
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return 'an object';
}

/** What nobody reads to its end is cut here. */
const LONGEST_QUOTED = 200;
/** A text whole, if it can be read at a glance. */
const quoted = (text: string): string =>
  `“${text.length > LONGEST_QUOTED ? `${text.slice(0, LONGEST_QUOTED)}…` : text}”`;
/** A piece of a longer text, which may be empty. */
const piece = (text: string): string =>
  text.trim() === '' ? shown(undefined) : quoted(text.trim());
const count = (of: number, noun: string): string => (of === 1 ? `one ${noun}` : `${of} ${noun}s`);

const range = (from: number, to: number): string => (from === to ? `${from}` : `${from} to ${to}`);
const whole = (least: number, most: number): string => `a whole number from ${least} to ${most}`;
const real = (least: number, most: number): string => `a number from ${least} to ${most}`;
const listed = (names: readonly string[]): string =>
  [names.slice(0, -1).join(', '), names.at(-1)].filter(Boolean).join(' and ');

/** Of what a list in a document can be. */
export type Listed =
  | 'necks'
  | 'strings'
  | 'controls'
  | 'pulls'
  | 'drops'
  | 'combinations'
  | 'control ids'
  | 'chord types';

const A_CHORD_TYPE = 'a chord type such as m7, 6/9 or maj, each once';
const A_KEY = 'a key such as Eb, E♭ major, Cm or F# minor, of at most seven sharps or flats';
const A_HARMONY = 'a root and a kind of chord with tones of its own';
const A_PROGRESSION = 'a progression';
const SOMETHING_ELSE = 'something else';

/** Every code with its row. */
export const SENTENCES = {
  // a file or text as a whole
  'file.tooLarge': (bytes: number, mostBytes: number) => [
    // rounded up: what is refused never seems to be as much as is allowed
    bytes < 1e7
      ? `${Math.ceil(bytes / 1e5) / 10} megabytes`
      : `${Math.round(bytes / 1e6)} megabytes`,
    `a file of at most ${mostBytes / 1e6} megabytes`,
  ],
  'file.senseless': (what: string) => ['something that cannot be made sense of', what],
  'file.kind': (endings: string) => [
    'a file of a kind that is not read',
    `a file that ends in ${endings}`,
  ],
  'file.notesOnly': () => [
    'a MIDI file, which holds notes and no chord symbols',
    'such a file as the melody of a progression',
  ],
  'file.unreadable': () => ['something that cannot be read', 'a file that this browser may read'],
  'file.notUtf8': () => ['bytes that are not text in UTF-8', 'a text file in UTF-8'],
  'text.tooLong': (length: number, most: number) => [
    `${length} characters`,
    `at most ${most} characters`,
  ],
  'text.notJson': (reason: string) => [`text that is not JSON (${reason})`, 'one JSON object'],
  'document.notAnObject': (value: unknown) => [shown(value), 'one JSON object'],
  'format.newer': (format: number, present: number) => [
    `${format}, a format newer than this program`,
    `a format up to ${present}; a newer Gripwright reads this file`,
  ],
  'format.older': (format: number, needed: number, place: string) => [
    `${format}`,
    `${needed}, the format that has what stands at ${place}`,
  ],

  // keys of an object
  'key.unknown': (key: string, known: readonly string[]) => [
    `the key ${quoted(key)}`,
    `only the keys ${known.join(', ')}`,
  ],
  'key.missing': (wanted: string) => [shown(undefined), wanted],
  'keys.tooMany': (count: number, wanted: string) => [`an object with ${count} keys`, wanted],

  // a value that is not what its place takes
  'value.format': (value: unknown, ...formats: readonly number[]) => [
    shown(value),
    `${formats.join(' or ')}, the number of this file format`,
  ],
  'value.text': (value: unknown, least: number, most: number) => [
    shown(value),
    `text of ${least} to ${most} characters`,
  ],
  'value.whole': (value: unknown, least: number, most: number) => [
    shown(value),
    whole(least, most),
  ],
  'value.semitones': (value: unknown, least: number, most: number) => [
    shown(value),
    `${whole(least, most)}, not 0`,
  ],
  'value.millimetres': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, in millimetres`,
  ],
  'value.inches': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, a diameter in inches`,
  ],
  'value.hertz': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, the pitch of A4 in hertz`,
  ],
  'value.cents': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, in cents`,
  ],
  'value.newtons': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, in newtons`,
  ],
  'value.usage': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, how often against other controls`,
  ],
  'value.leverage': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, millimetres of rod for each millimetre of string`,
  ],
  'value.weight': (value: unknown, above: number, most: number) => [
    shown(value),
    `a number above ${above}, at most ${most.toLocaleString('en')}`,
  ],
  'value.trueOrFalse': (value: unknown) => [shown(value), 'true or false'],
  'value.list': (value: unknown, least: number, most: number, of: Listed) => [
    shown(value),
    `a list of ${least} to ${most} ${of}`,
  ],
  'value.object': (value: unknown, keys: readonly string[] = []) => [
    shown(value),
    keys.length === 0 ? 'an object' : `an object with ${listed(keys)}`,
  ],
  'value.pitch': (value: unknown) => [shown(value), 'a pitch from C0 to C8, such as F#4 or Bb2'],
  'value.station': (value: unknown) => [
    shown(value),
    'one of P1 to P12, LKL, LKV, LKR, RKL, RKV, RKR, the same six with a 2 behind for a second bank, WRIST, PALM1, PALM2',
  ],
  'value.controlId': (value: unknown) => [shown(value), 'the id of a control'],
  'value.chordType': (value: unknown) => [shown(value), A_CHORD_TYPE],

  // a setup file: rules between its places; `first` is where a thing stands for the first time
  'setup.tooLong': (length: number, most: number) => [
    `${length} characters`,
    `a setup file of at most ${most} characters`,
  ],
  'setup.tooMuch': (keys?: number) => [
    keys === undefined ? 'a document of very many parts' : `an object with ${keys} keys`,
    'one setup',
  ],
  'id.twice': (id: string, first: number) => [
    `${shown(id)} again (first at controls[${first}])`,
    'an id of its own for every control',
  ],
  'slack.asLongAsTravel': (slackMm: number, travelMm: number) => [
    shown(slackMm),
    `less than the travel of ${travelMm} mm`,
  ],
  'station.twice': (station: string, first: number) => [
    `${shown(station)} again (first at controls[${first}])`,
    'one control a station',
  ],
  'neck.absent': (neck: number, necks: number) => [
    shown(neck),
    `a neck of this setup, ${range(1, necks)}`,
  ],
  'string.absent': (string: number, neck: number, strings: number) => [
    shown(string),
    `a string of neck ${neck}, ${range(1, strings)}`,
  ],
  'pull.twice': (string: number, neck: number, first: number) => [
    `a second pull on string ${string} of neck ${neck} (first at pulls[${first}])`,
    'one pull a string and neck in a control',
  ],
  'half.notOnTheWay': (half: number, semitones: number, stops: readonly [number, number]) => [
    shown(half),
    `a stop on the way to ${semitones}: ${range(...stops)}`,
  ],
  'half.ofOneSemitone': (half: number) => [
    shown(half),
    'no half-stop: a pull of one semitone has no whole step on the way',
  ],
  'halfCents.withoutHalf': (cents: unknown) => [
    shown(cents),
    'a target only where the pull has a half-stop',
  ],
  'splitCents.ofRaise': (cents: unknown) => [shown(cents), 'a target of a split only on a lower'],
  'drop.twice': (string: number, neck: number, first: number) => [
    `a second drop of string ${string} of neck ${neck} (first at drops[${first}])`,
    'one drop a string and neck in a control',
  ],
  'drop.ofPulledString': (string: number, neck: number) => [
    `string ${string} of neck ${neck}, which this control pulls itself`,
    'a string that the control does not pull',
  ],
  'combination.idTwice': (id: string) => [
    `${shown(id)} again`,
    'each control once in a combination',
  ],
  'combination.idUnknown': (id: string) => [shown(id), 'the id of a control of this setup'],
  'combination.twice': (list: 'never' | 'also', first: number) => [
    `the combination of ${list}[${first}] again`,
    'each combination once',
  ],
  'combination.switchedOff': (never: number) => [
    `a combination that holds all of never[${never}]`,
    'a combination that is not switched off in the same file',
  ],

  // a control as a text, and what is proposed for a setup
  'control.form': (text: string) => [
    quoted(text),
    'a station and its pulls, such as LKV:5-1,10-1 or RKR:2-1/-2,9-1',
  ],
  'control.station': (text: string, stations: readonly string[]) => [
    quoted(text),
    `a station: ${stations.join(', ')}`,
  ],
  'control.pull': (text: string) => [
    quoted(text),
    'a pull such as 5-1 or 10+2, with a half-stop 2-1/-2, on a second neck 2.5+1',
  ],
  'control.pullTwice': (text: string, string: number, neck?: number) => [
    quoted(text),
    `one pull for string ${string}${neck === undefined ? '' : ` of neck ${neck}`}`,
  ],
  'control.neck': (text: string, necks: number) => [
    quoted(text),
    `a neck that is there; this setup has ${necks}`,
  ],
  'control.string': (text: string, strings: number) => [
    quoted(text),
    `a string of that neck, 1 to ${strings}`,
  ],
  'control.semitones': (text: string, most: number) => [
    quoted(text),
    `1 to ${most} semitones up or down`,
  ],
  'control.half': (text: string) => [
    quoted(text),
    'a half-stop on the way to the full one, such as 2-1/-2',
  ],
  'without.unknown': (id: string, ids: readonly string[]) => [
    quoted(id),
    ids.length === 0
      ? 'nothing: this setup has no controls'
      : `a control of this setup, each once: ${ids.join(', ')}`,
  ],
  'open.unreadable': (text: string) => [
    quoted(text),
    'a string of this setup and its pitch, such as 9:C#3',
  ],

  // a repertoire
  'chordType.twice': (type: string) => [`${shown(type)} a second time`, A_CHORD_TYPE],

  // a stored progression
  'progression.notJson': () => ['text that is not JSON', A_PROGRESSION],
  'progression.notAnObject': () => [SOMETHING_ELSE, A_PROGRESSION],
  'progression.format': (format: unknown, present: number) => [
    JSON.stringify(format) ?? shown(undefined),
    `${present}; a higher number comes from a newer Gripwright`,
  ],
  'progression.setup': () => [SOMETHING_ELSE, 'the id of a setup'],
  'progression.text': () => [SOMETHING_ELSE, 'a text'],
  'progression.wishes': () => [SOMETHING_ELSE, 'wishes by their parts'],

  // a key of music
  'tonality.unreadable': (text: string) => [text, A_KEY],

  // XML, and a score in it
  'xml.malformed': (reason: string) => [`text that is not XML (${reason})`, 'XML'],
  'xml.empty': () => [shown(undefined), 'XML'],
  'xml.definitions': () => [
    'a document type with definitions of its own',
    'a document type that is only named',
  ],
  'xml.tooDeep': (most: number) => [
    `elements nested deeper than ${most}`,
    `at most ${most} within one another`,
  ],
  'xml.tooManyElements': (most: number) => [
    `more than ${most.toLocaleString('en')} elements`,
    `a score of at most ${most.toLocaleString('en')}`,
  ],
  'xml.tooFull': (most: number, what: 'elements' | 'attributes') => [
    `more than ${most.toLocaleString('en')} ${what} in one place`,
    what === 'elements'
      ? `at most ${most.toLocaleString('en')} in a measure or in the head`
      : `at most ${most.toLocaleString('en')} in an element`,
  ],
  'score.root': (name: string) => [
    `a document that begins with <${name.slice(0, LONGEST_QUOTED)}>`,
    'a MusicXML score written part by part (<score-partwise>)',
  ],
  'score.noParts': () => ['a score without parts', 'a score with at least one part'],
  'score.tooMany': (most: number, what: 'measures' | 'notes') => [
    `more than ${most.toLocaleString('en')} ${what} in a part`,
    `at most ${most.toLocaleString('en')}`,
  ],

  // an archive with a score in it
  'archive.damaged': () => ['an archive that cannot be unpacked', 'a ZIP archive, whole'],
  'archive.noContents': () => [
    'an archive without a table of contents',
    'a compressed score, with META-INF/container.xml',
  ],
  'archive.noScore': () => [
    'an archive without the score that its table of contents names',
    'a compressed score, whole',
  ],
  'archive.tooLarge': (mostBytes: number) => [
    `a score that is larger than ${mostBytes} bytes once it is unpacked`,
    `at most ${mostBytes / 1e6} megabytes`,
  ],

  // a MIDI file
  'midi.header': () => ['a file that does not begin with MThd', 'a MIDI file'],
  'midi.damaged': () => ['a MIDI file that is cut off or damaged', 'a MIDI file, whole'],
  'midi.filmFrames': () => [
    'a MIDI file that counts in film frames',
    'one that counts in quarter notes',
  ],
  'midi.noNotes': () => ['a MIDI file without notes', 'one with a tune'],

  // chords in bars, song texts and scores: a piece as a whole
  'piece.noBars': () => ['nothing', 'chords in bars, such as C | Am7 | Dm7 G7 | C'],
  'piece.noChordsInSong': () => [
    'no chords',
    'chords in brackets in the words, on lines above them, or in a grid',
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
  'head.key': (text: string) => [quoted(text), A_KEY],
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
  'bar.empty': () => ['an empty bar', 'a chord, % for the bar before, or N.C. between bar lines'],
  'bar.repeatedWithoutRepeat': (text: string) => [
    quoted(text),
    'a number of times only after a repeat, such as :|x3',
  ],
  'bar.nothingBefore': () => [quoted('%'), 'a bar before it, which it repeats'],
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
    `${count(bars, 'bar')} of melody, as there are of chords`,
  ],
  'melody.withoutChords': () => ['a melody', 'a line of chords above it'],
} satisfies Readonly<Record<string, (...of: never[]) => Sentence>>;
