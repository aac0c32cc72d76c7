/** What can be wrong with any document: a file, a text, its keys, and values that are not what their place takes. */
import { faultsOf, type DocumentFault, type Sentences } from './faults';
import { A_CHORD_TYPE, listed, quoted, real, shown, whole } from './faultWords';
import { ok, refuse, type Result } from './result';

/** Of what a list in a document can be. */
export type Listed =
  | 'necks'
  | 'strings'
  | 'controls'
  | 'pulls'
  | 'drops'
  | 'combinations'
  | 'control ids'
  | 'distances in millimetres'
  | 'chord types';

export const DOCUMENT_SENTENCES = {
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
    'such a file as the melody of a piece',
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
  'value.degrees': (value: unknown, least: number, most: number) => [
    shown(value),
    `${real(least, most)}, in degrees`,
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

  // a repertoire
  'chordType.twice': (type: string) => [`${shown(type)} a second time`, A_CHORD_TYPE],
} satisfies Sentences;

export const { fault } = /* @__PURE__ */ faultsOf(DOCUMENT_SENTENCES);

/**
 * The one guard that readers of documents stand behind: what is thrown at a document, by a library or at
 * a limit of the machine, is the fault of a document that cannot be read. `what` is what would be right
 * (“a tune in ABC notation”), and `refused` makes the reader's own kind of refusal of the fault.
 */
export function guarded<T, E>(
  what: string,
  refused: (fault: DocumentFault) => E,
  read: () => Result<T, E>,
): Result<T, E> {
  try {
    return read();
  } catch {
    return refuse(refused(fault('file.senseless', '', what)));
  }
}

/** What a text holds that is JSON, whether a mark of byte order stands before it or not; it may be anything. */
export function jsonIn(text: string): Result<unknown, readonly DocumentFault[]> {
  try {
    return ok(JSON.parse(text.replace(/^\uFEFF/, '')));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return refuse([fault('text.notJson', '', reason)]);
  }
}
