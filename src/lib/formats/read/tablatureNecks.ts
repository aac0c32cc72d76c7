/** Which neck of a setup tablature is for: a heading says it, else the strings' notes, their number, or the controls. */
import type { Engaged, Neck, Setup } from '$lib/setup/setup';
import { noteTextInLetters } from '$lib/theory/typedNames';
import { chromaOf, chromaOfName, parseNoteName } from '$lib/theory/pitch';
import type { Doubts, Piece } from './chart/doubts';

/** What tells the necks apart. */
export interface NeckClues {
  /** The strings that are played, as they are numbered. */
  readonly numbers?: readonly number[];
  /** The open notes that stand at the lines, top line first. */
  readonly notes?: readonly string[];
  /** How many lines there are, where nothing stands at them. */
  readonly lines?: number;
  readonly engaged: readonly Engaged[];
  readonly piece: Piece;
}

/** The strings of a neck, 1 … n, that open notes are of, in their order; `undefined` where they are not its own. */
export function stringsByNote({ strings }: Neck, notes: readonly string[]): number[] | undefined {
  let from = 0;
  const found = notes.map((note) => {
    const name = parseNoteName(noteTextInLetters(note));
    const at = strings.findIndex(
      ({ open }, index) =>
        index >= from && name !== undefined && chromaOf(open.midi) === chromaOfName(name),
    );
    from = at + 1;
    return at + 1;
  });
  return found.every((string) => string > 0) ? found : undefined;
}

const ORDER: readonly (readonly [RegExp, number])[] = [
  [/^(?:neck|hals) ?1$|^(?:first|1st|erster) (?:neck|hals)$/u, 1],
  [/^(?:neck|hals) ?2$|^(?:second|2nd|zweiter) (?:neck|hals)$/u, 2],
  [/^(?:neck|hals) ?3$|^(?:third|3rd|dritter) (?:neck|hals)$/u, 3],
];

/** Tells the neck of every stave and of every line of a text. */
export class TablatureNecks {
  readonly #setup: Setup;
  readonly #doubts: Doubts;
  /** The one that a heading said. */
  #said: number | undefined;

  constructor(setup: Setup, doubts: Doubts) {
    this.#setup = setup;
    this.#doubts = doubts;
  }

  /** Takes a line that says no more than a neck; tells whether it is one. */
  takeHeading(text: string): boolean {
    const words = text
      .replace(/[#*_=:()[\]-]+/gu, ' ')
      .replace(/\s+/gu, ' ')
      .trim()
      .toLowerCase()
      .replace(/^(?:(?:on|auf) )?(?:the |dem |der )?/u, '');
    const ordered = ORDER.find(([form]) => form.test(words))?.[1];
    const bare = words.replace(/^(?:neck|hals) | (?:neck|hals)$/gu, '');
    const named = this.#setup.necks.findIndex(({ name }) => name.toLowerCase() === bare) + 1;
    const neck = ordered ?? named;
    if (neck < 1 || neck > this.#setup.necks.length) return false;
    this.#said = neck;
    return true;
  }

  /** The neck, from 1; where nothing tells it the first is taken, and told. */
  of({ numbers = [], notes, lines, engaged, piece }: NeckClues): number {
    const { necks, controls } = this.#setup;
    if (this.#said !== undefined) return this.#said;
    const tests: ((neck: Neck, number: number) => boolean)[] = [
      (neck) => notes === undefined || stringsByNote(neck, notes) !== undefined,
      ({ strings }) => numbers.every((number) => number <= strings.length),
      ({ strings }) => lines === undefined || lines === strings.length,
      (_, number) =>
        engaged.every(({ id }) =>
          controls.some(
            (control) => control.id === id && control.pulls.some(({ neck }) => neck === number),
          ),
        ),
    ];
    let left = necks.map((neck, index) => ({ neck, number: index + 1 }));
    for (const test of tests) {
      const fitting = left.filter(({ neck, number }) => test(neck, number));
      // what fits no neck says nothing
      if (fitting.length > 0) left = fitting;
    }
    const first = left[0]?.number ?? 1;
    if (left.length > 1)
      this.#doubts.tell({
        key: 'neck',
        piece,
        found: `tablature that fits ${left.map(({ neck }) => neck.name).join(' and ')}`,
        read: `for ${necks[first - 1]?.name ?? ''}, here and where nothing says another; a line with the neck’s name above it does`,
      });
    return first;
  }
}
