/** What a file has and a piece cannot hold: counted by kind and measure, and told once a kind. */
import type { NotTaken } from '$lib/arrange/progression';

/** Kinds, in the order in which they are told, each with what is done about it. */
const WORDS = {
  voice: 'another voice sounds with the first; the highest note is the tune',
  lower: 'notes sound under the tune, of which the highest is taken',
  staff: 'notes on a further staff are left out',
  quarterTone: 'a quarter tone is taken as the nearest semitone',
  percussion: 'percussion is left out',
  cue: 'cue notes are left out',
  figuredBass: 'figured bass is left out',
  closed: 'tablature or notation of other programs is left out',
} as const;

export type BeyondKind = keyof typeof WORDS;

/** Measures that are named; of more there is a number. */
const MOST_PLACES = 4;
/** Names that are told one by one. */
const MOST_NAMES = 4;

/** `3, 7, 9, 12 and 5 more`. */
function listed(all: readonly string[], most: number): string {
  const more = all.length - most;
  if (more > 0) return `${all.slice(0, most).join(', ')} and ${String(more)} more`;
  return all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1) ?? ''}`;
}

/** Collects what is beyond a piece. */
export class Beyond {
  readonly #places = new Map<BeyondKind, Set<string>>();

  /** @param place the number of a measure, or of a line */
  add(kind: BeyondKind, place: string): void {
    const places = this.#places.get(kind) ?? new Set();
    this.#places.set(kind, places.add(place));
  }

  /** @param unit what places are numbers of */
  list(unit: 'measure' | 'line' = 'measure'): NotTaken[] {
    return (Object.keys(WORDS) as BeyondKind[]).flatMap((kind) => {
      const places = [...(this.#places.get(kind) ?? [])];
      if (places.length === 0) return [];
      const where = `${unit}${places.length === 1 ? '' : 's'} ${listed(places, MOST_PLACES)}`;
      return [{ where, words: WORDS[kind] }];
    });
  }
}

/** Parts, voices, tracks or tunes that are left out, by their names. */
export function leftOut(what: string, names: readonly string[]): NotTaken[] {
  if (names.length === 0) return [];
  const quoted = names.map((name) =>
    name === '' ? 'one without a name' : `“${name.slice(0, 60)}”`,
  );
  const [one, many] = [`the ${what}`, `the ${what}s`];
  return [
    {
      where: '',
      words: `${names.length === 1 ? one : many} ${listed(quoted, MOST_NAMES)} ${names.length === 1 ? 'is' : 'are'} left out`,
    },
  ];
}
