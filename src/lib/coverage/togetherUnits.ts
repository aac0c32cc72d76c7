/**
 * How the units of a search over several stations are numbered: single stations first, then two, then three; of one
 * station one unit, of more one for each pull set of the first of them.
 */
import type { CandidateRange } from './ranges';

/** About so many choices are a piece: about a second of a core. */
const PIECE = 4e5;

/** Some stations of the question, by their index, with their units. */
export interface Part {
  readonly at: readonly number[];
  readonly first: number;
  readonly units: number;
}

/** The units of a question. */
export class Units {
  readonly parts: readonly Part[];
  readonly units: number;
  /** Choices of pull sets in all units. */
  readonly choices: number;
  /** Pull sets of a station. */
  readonly #count: number;

  constructor(stations: number, count: number) {
    const parts: Part[] = [];
    let units = 0;
    let choices = 0;
    for (let size = 1; size <= stations; size++)
      for (const at of stationsOf(stations, size)) {
        const own = count === 0 ? 0 : size === 1 ? 1 : count;
        parts.push({ at, first: units, units: own });
        units += own;
        choices += count ** size;
      }
    this.parts = parts;
    this.units = units;
    this.choices = choices;
    this.#count = count;
  }

  /** The part that a unit belongs to. */
  partAt(unit: number): Part {
    return this.parts.findLast(({ first }) => first <= unit) ?? (this.parts[0] as Part);
  }

  /** Pieces of some units that take about equally long, but for the first, which is small. */
  pieces(ranges: readonly CandidateRange[]): CandidateRange[] {
    const pieces: CandidateRange[] = [];
    for (const [first, last] of ranges)
      for (let from = first; from <= last;) {
        const part = this.partAt(from);
        const size = part.at.length === 2 ? Math.max(1, Math.round(PIECE / this.#count)) : 1;
        const least = part.at.length === 2 && from === part.first ? Math.ceil(size / 4) : size;
        const to = Math.min(last, part.first + part.units - 1, from + least - 1);
        pieces.push([from, to]);
        from = to + 1;
      }
    return pieces;
  }
}

/** All choices of so many stations, by their index, ascending. */
function* stationsOf(count: number, size: number, from = 0): Generator<number[]> {
  if (size === 0) yield [];
  else
    for (let i = from; i <= count - size; i++)
      for (const rest of stationsOf(count, size - 1, i + 1)) yield [i, ...rest];
}
