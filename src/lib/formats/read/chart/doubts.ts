/** What a chart left open, and how it was read: nothing is guessed without being told here. */

/** A piece of a chart's text: where it begins, in characters from the start, and what stands there. */
export interface Piece {
  readonly text: string;
  readonly at: number;
}

/** A reading that could be meant. */
export interface Choice {
  /** What `settled` takes. */
  readonly id: string;
  /** For people, as the end of “read as …”. */
  readonly says: string;
}

/** What of the setup a doubt is about, as far as it can be said. */
export interface About {
  /** A control's id. */
  readonly control?: string;
  /** The neck, from 1, and on it a string, from 1. */
  readonly neck?: number;
  readonly string?: number;
}

export interface Doubt {
  /** The same for the same doubt in every reading of a text. */
  readonly key: string;
  /** Characters from the start of the text, and how many. */
  readonly at: number;
  readonly length: number;
  /** For people: `line 4, LKL`. */
  readonly where: string;
  readonly found: string;
  /** What was found are the chart's own words. */
  readonly isQuoted: boolean;
  readonly read: string;
  /** What could be meant instead, the reading chosen first; empty where there is nothing to choose. */
  readonly choices: readonly Choice[];
  /** The player has chosen. */
  readonly isSettled: boolean;
  readonly about: About;
}

/** What the player chose: a choice's id by the doubt's key. */
export type Settled = Readonly<Record<string, string>>;

/** A doubt as a reader notes it, its place still a piece of the text. */
export interface NotedDoubt {
  readonly key: string;
  readonly piece: Piece;
  /** What stands there beside the line: a station, a string. */
  readonly spot?: string;
  readonly about?: About;
  readonly found?: string;
  /** What is read, where there is nothing to choose. */
  readonly read?: string;
  /** The usual one first. */
  readonly choices?: readonly Choice[];
}

/** Notes doubts while a chart is read, and tells what the player chose. */
export class Doubts {
  readonly #noted = new Map<string, NotedDoubt>();
  readonly #settled: Settled;

  constructor(settled: Settled) {
    this.#settled = settled;
  }

  /** The id of the choice that holds: the player's, else the usual one. One key is noted once. */
  ask(doubt: NotedDoubt & { readonly choices: readonly Choice[] }): string {
    if (!this.#noted.has(doubt.key)) this.#noted.set(doubt.key, doubt);
    return this.#chosen(doubt).id;
  }

  /** Notes what was read in one way, with nothing to choose. */
  tell(doubt: NotedDoubt & { readonly read: string }): void {
    if (!this.#noted.has(doubt.key)) this.#noted.set(doubt.key, doubt);
  }

  #chosen({ key, choices = [] }: NotedDoubt): Choice {
    const wanted = Object.hasOwn(this.#settled, key) ? this.#settled[key] : undefined;
    return choices.find(({ id }) => id === wanted) ?? choices[0] ?? { id: '', says: '' };
  }

  /** How many things were left unread; a control of which nothing was read is one too. */
  get unread(): number {
    return [...this.#noted.values()].reduce((sum, { key, read = '', found = '' }) => {
      if (key === 'idle') return sum + found.split(',').length;
      return sum + (read.startsWith('nothing') ? 1 : 0);
    }, 0);
  }

  /** All that was noted, in the order of the text. */
  list(text: string): Doubt[] {
    const starts = [0];
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
    const lineOf = (at: number): number => {
      let low = 0;
      let high = starts.length - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if ((starts[middle] ?? 0) <= at) low = middle;
        else high = middle - 1;
      }
      return low + 1;
    };
    return [...this.#noted.values()]
      .map((noted): Doubt => {
        const { key, piece, spot, about = {}, found = piece.text, choices = [] } = noted;
        const chosen = this.#chosen(noted);
        return {
          key,
          at: piece.at,
          length: piece.text.length,
          where: `line ${lineOf(piece.at)}${spot === undefined ? '' : `, ${spot}`}`,
          found,
          isQuoted: noted.found === undefined,
          read: choices.length > 0 ? chosen.says : (noted.read ?? ''),
          choices:
            choices.length > 0 ? [chosen, ...choices.filter(({ id }) => id !== chosen.id)] : [],
          isSettled: choices.some(({ id }) => id === this.#settled[key]),
          about,
        };
      })
      .sort((a, b) => a.at - b.at || a.key.localeCompare(b.key));
  }
}
