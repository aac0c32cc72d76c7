/** What can be wrong with the files of other programs: scores, archives with scores in them, tunes in MIDI. */
import { DOCUMENT_SENTENCES } from './documentFaults';
import { faultsOf, type Sentences } from './faults';
import { LONGEST_QUOTED, shown } from './faultWords';

export const SCORE_SENTENCES = {
  ...DOCUMENT_SENTENCES,

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
} satisfies Sentences;

export type ScoreCode = keyof typeof SCORE_SENTENCES;
/** What the sentence of a code is made of. */
export type SentenceOf<C extends ScoreCode> = Parameters<(typeof SCORE_SENTENCES)[C]>;

export const { fault } = /* @__PURE__ */ faultsOf(SCORE_SENTENCES);
