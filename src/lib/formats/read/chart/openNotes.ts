/** A line's open notes: `Tuning: F# D# G# E`, notes alone, or notes in the middle of a sentence. */
import type { Piece } from './doubts';
import { nameOfWord, readNoteWord, type NoteWord } from './noteWord';
import { seemsReversed } from '$lib/setup/openOctaves';
import type { WrittenString } from './reading';

export interface OpenNotes {
  /** String 1 first. */
  readonly strings: readonly WrittenString[];
  /** They stand string 1 last, and nothing but the notes or a word beside them says so. */
  readonly turned: boolean;
  /** What else the line says. */
  readonly beside: readonly Piece[];
}

const SAYS_TUNING =
  /(?:tun(?:ing|ed)|open|strings?|stimmung|gestimmt|saiten|notes?|pitch(?:es)?|töne)(?!\p{L})/iu;
/** Words that say that the lowest string comes first, or the highest. */
const LOW_FIRST =
  /(?:low(?:est)?|bottom|thick(?:est)?|tief(?:ste)?|unten|bass)\W+(?:string\W+)?(?:to|first|up|nach|zuerst|bis)(?!\p{L})|(?:from|von|vom) (?:the )?(?:low|bottom|tief|unten)/iu;
const HIGH_FIRST =
  /(?:high(?:est)?|top|hoch|oben)\W+(?:string\W+)?(?:to|first|down|nach|zuerst|bis)(?!\p{L})|(?:from|von|vom) (?:the )?(?:high|top|hoch|oben|first)/iu;
/** Whom a run of note words is enough for. */
const LEAST = 4;
const LEAST_SAID = 3;
const MOST = 14;

interface Word extends Piece {
  readonly note: NoteWord | undefined;
  readonly number: number | undefined;
}

/** The longest run of note words, numbers between them or not. */
function longestRun(words: readonly Word[]): readonly Word[] {
  let best: readonly Word[] = [];
  const size = (run: readonly Word[]): number =>
    run.filter(({ note }) => note !== undefined).length;
  for (let from = 0; from < words.length; from++) {
    let to = from;
    while (to < words.length && (words[to]?.note ?? words[to]?.number) !== undefined) to++;
    const run = words.slice(from, to);
    if (size(run) > size(best)) best = run;
    from = Math.max(from, to);
  }
  const first = best.findIndex(({ note, number }) => (note ?? number) !== undefined);
  return best.slice(Math.max(0, first));
}

/** Each note with the number before it, where every note has one: `1 E4, 2 C4`. */
function numberedOf(run: readonly Word[]): WrittenString[] {
  const strings: WrittenString[] = [];
  let number: number | undefined;
  for (const word of run) {
    if (word.note !== undefined) {
      const { text, at } = word;
      strings.push({
        note: word.note,
        ...(number === undefined ? {} : { number }),
        piece: { text, at },
      });
    }
    number = word.number;
  }
  const numbers = strings.map((each) => each.number);
  if (new Set(numbers).size === strings.length && !numbers.includes(undefined))
    return strings.toSorted((a, b) => (a.number ?? 0) - (b.number ?? 0));
  return strings.map(({ note, piece }) => ({ ...(note === undefined ? {} : { note }), piece }));
}

/** The open notes in a line; `undefined` where it has none. */
export function openNotesIn(line: Piece): OpenNotes | undefined {
  // dashes between notes join them, signs behind a note are its own
  const words = [...line.text.matchAll(/[^\s,;|/–()"'=]+/gu)]
    .filter(([word]) => /[\p{L}\d]/u.test(word))
    .flatMap((match): Word[] => {
      const parts = /^[A-H][#b\d]*(?:-[A-H][#b\d]*)+$/u.test(match[0])
        ? [...match[0].matchAll(/[^-]+/gu)]
        : [match];
      return parts.map((part) => {
        const text = part[0];
        const at = line.at + match.index + (part === match ? 0 : part.index);
        const glued = /^(\d{1,2})[.:)]?$/u.exec(text);
        const bare = text.replace(/[.:)]+$/u, '');
        return {
          text,
          at,
          // `C6:` is a tuning's name, and no string is tuned as high
          note:
            /^[A-Ha-h]/u.test(bare) && !/:$|[6-9]$/u.test(text) ? readNoteWord(bare) : undefined,
          number: glued === null ? undefined : Number(glued[1]),
        };
      });
    });
  const run = longestRun(words);
  const strings = numberedOf(run);
  const [first, last] = [run[0], run.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const before = line.text.slice(0, first.at - line.at);
  const after = line.text.slice(last.at - line.at + last.text.length);
  const isSaid = SAYS_TUNING.test(before);
  if (strings.length < (isSaid ? LEAST_SAID : LEAST) || strings.length > MOST) return undefined;
  // small letters are words rather than notes
  if (strings.every(({ piece }) => /^[a-h]$/u.test(piece.text)) && !isSaid) return undefined;
  const around = `${before} ${after}`;
  const isNumbered = strings.every(({ number }) => number !== undefined);
  const notes = strings.flatMap(({ note }) =>
    note === undefined
      ? []
      : [{ name: nameOfWord(note, false), octave: note.octave, gauge: undefined }],
  );
  const turned =
    !isNumbered && (LOW_FIRST.test(around) || (!HIGH_FIRST.test(around) && seemsReversed(notes)));
  const rest = [before.replace(/[\s:=(]+$/u, ''), after]
    .map((text, index) => ({
      text: text.trim(),
      at: index === 0 ? line.at : last.at + last.text.length,
    }))
    .filter(({ text }) => /[\p{L}\d]/u.test(text) && !isOnlyAboutTuning(text));
  return { strings: turned ? strings.toReversed() : strings, turned, beside: rest };
}

/** Words around open notes that say no more than that. */
const isOnlyAboutTuning = (text: string): boolean =>
  text
    .replace(SAYS_NOTHING, ' ')
    .replace(/\d{1,2}(?:st|nd|rd|th)?/gu, ' ')
    .trim().length <= 24 ||
  LOW_FIRST.test(text) ||
  HIGH_FIRST.test(text);
const SAYS_NOTHING =
  /(?<!\p{L})(?:tun(?:ing|ed)|open|strings?|stimmung|gestimmt|saiten?|notes?|to|is|are|it|a|the|my|from|bis|von|ist|six|eight|ten|twelve|string|first|last|high|low|est|[^\p{L}\d\s])(?!\p{L})|[^\p{L}\d\s]/giu;
