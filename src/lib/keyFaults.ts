/** What can be wrong with a key of music. */
import { faultsOf, type Sentences } from './faults';
import { quoted } from './faultWords';

const A_KEY = 'a key such as Eb, E♭ major, Cm or F# minor, of at most seven sharps or flats';

export const KEY_SENTENCES = {
  'tonality.unreadable': (text: string) => [text, A_KEY],
  'head.key': (text: string) => [quoted(text), A_KEY],
} satisfies Sentences;

export const { fault } = /* @__PURE__ */ faultsOf(KEY_SENTENCES);
