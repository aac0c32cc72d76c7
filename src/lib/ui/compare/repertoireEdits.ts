/** Changes to a repertoire from what people type or open, each with the words about what came of it. */
import { prettySymbol } from '$lib/theory/display';
import { chordsMeant } from '$lib/theory/chordWords';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { readType, repertoireOf, typeText, type Repertoire } from '$lib/theory/repertoire';
import { readRepertoireFile } from '$lib/coverage/repertoireFile';
import { faultText } from '$lib/faults';
import { textCalled, textInLetters } from '$lib/ui/kit/noteNames.svelte';
import { meantWhole, type Meant } from '$lib/ui/kit/meant';

export interface Edited {
  /** Left out where nothing comes of it. */
  readonly repertoire?: Repertoire;
  /** A sentence, or nothing where there is nothing to say. */
  readonly told: string;
  /** What was likely meant by a text that cannot be read. */
  readonly meant?: readonly Meant[];
}

/** The type of a chord that was written whole, here or in another notation: `Am7`, `H7`, `ii`. */
function typesMeant(text: string): string[] {
  const whole = readChord(text.trim());
  const symbols = whole.ok ? [text] : (whole.error.other?.readings ?? []);
  const types = symbols.flatMap((symbol) => {
    const read = readChord(symbol.trim());
    return read.ok && read.value !== 'no chord' ? typeText(read.value.type) : [];
  });
  return [...new Set(types)];
}

/** One type more; it counts as much as the rarest one before it. */
export function addedType(repertoire: Repertoire, text: string): Edited {
  const type = readType(text);
  if (type === undefined || text.trim() === '')
    return {
      told: `“${text}” is not understood: a chord type is written such as m7, 13 or 6/9.`,
      meant: meantWhole(typesMeant(text)),
    };
  const name = type === '' ? 'Major' : prettySymbol(type);
  if (repertoire.some((each) => each.type === type)) return { told: `${name} is there already.` };
  const weight = Math.min(...repertoire.map((each) => each.weight));
  return { repertoire: [...repertoire, { type, weight }], told: `${name} is added.` };
}

/** The types of a progression, in bars or one after the other. */
export function fromProgression(typed: string): Edited {
  const text = textInLetters('chords', typed);
  const symbols = text.split(/[\s|]+/u).filter((symbol) => symbol !== '');
  const { repertoire, unread } = repertoireOf(symbols);
  const problems = unread.map(chordFaultText).join(' ');
  const meant = unread.flatMap((fault) =>
    chordsMeant(text, fault).map((each) => ({
      shown: prettySymbol(each.chord),
      text: textCalled('chords', each.text),
    })),
  );
  if (repertoire.length === 0)
    return problems === '' ? { told: 'There is no chord in it.' } : { told: problems, meant };
  const chords = repertoire.reduce((sum, { weight }) => sum + weight, 0);
  const taken = `${chords} ${chords === 1 ? 'chord' : 'chords'} of ${repertoire.length} ${repertoire.length === 1 ? 'type' : 'types'} taken.`;
  const told = problems === '' ? taken : `${taken} Left aside: ${problems}`;
  return { repertoire, told, meant };
}

export function fromFile(text: string): Edited {
  const read = readRepertoireFile(text);
  return read.ok
    ? { repertoire: read.value, told: 'The file is opened.' }
    : { told: `The file is no repertoire. ${read.error.map(faultText).join(' ')}` };
}
