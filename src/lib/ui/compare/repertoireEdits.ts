/** Changes to a repertoire from what people type or open, each with the words about what came of it. */
import { prettySymbol } from '$lib/theory/display';
import { chordFaultText } from '$lib/theory/readChord';
import { readType, repertoireOf, type Repertoire } from '$lib/theory/repertoire';
import { readRepertoireFile } from '$lib/coverage/repertoireFile';
import { faultText } from '$lib/faults';

export interface Edited {
  /** Left out where nothing comes of it. */
  readonly repertoire?: Repertoire;
  /** A sentence, or nothing where there is nothing to say. */
  readonly told: string;
}

/** One type more; it counts as much as the rarest one before it. */
export function addedType(repertoire: Repertoire, text: string): Edited {
  const type = readType(text);
  if (type === undefined || text.trim() === '')
    return { told: `“${text}” is not understood: a chord type is written such as m7, 13 or 6/9.` };
  const name = type === '' ? 'Major' : prettySymbol(type);
  if (repertoire.some((each) => each.type === type)) return { told: `${name} is there already.` };
  const weight = Math.min(...repertoire.map((each) => each.weight));
  return { repertoire: [...repertoire, { type, weight }], told: `${name} is added.` };
}

/** The types of a progression, in bars or one after the other. */
export function fromProgression(text: string): Edited {
  const symbols = text.split(/[\s|]+/u).filter((symbol) => symbol !== '');
  const { repertoire, unread } = repertoireOf(symbols);
  const problems = unread.map(chordFaultText).join(' ');
  if (repertoire.length === 0)
    return { told: problems === '' ? 'There is no chord in it.' : problems };
  const chords = repertoire.reduce((sum, { weight }) => sum + weight, 0);
  const taken = `${chords} ${chords === 1 ? 'chord' : 'chords'} of ${repertoire.length} ${repertoire.length === 1 ? 'type' : 'types'} taken.`;
  return { repertoire, told: problems === '' ? taken : `${taken} Left aside: ${problems}` };
}

export function fromFile(text: string): Edited {
  const read = readRepertoireFile(text);
  return read.ok
    ? { repertoire: read.value, told: 'The file is opened.' }
    : { told: `The file is no repertoire. ${read.error.map(faultText).join(' ')}` };
}
