/**
 * What the search worker does for the page: plain data in, plain data out. It keeps the setup last
 * spoken of and the last answer, so that more of it can be asked for.
 */
import { atlasOf, type Atlas } from '$lib/answers/atlas';
import { answer } from '$lib/answers/answer';
import type { RankedVoicing, RankedVoicings, Searched } from '$lib/engine/rankedVoicings';
import { nearest, type Loosened } from '$lib/answers/nearest';
import { positionsOf } from '$lib/answers/positions';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';
import type { Setup } from '$lib/setup/setup';

/** A hand position with its grips, easiest first. */
export type PositionRows = readonly RankedVoicing[];

export interface Findings {
  readonly searched: Searched;
  readonly count: number;
  readonly positionCount: number;
  /** The first positions, as many as were asked for. */
  readonly positions: readonly PositionRows[];
  /** Only where nothing is found. */
  readonly nearest: readonly Loosened[];
}

export class SearchDesk {
  #setup: Setup | undefined;
  #answer: RankedVoicings | undefined;
  #positions: readonly (readonly number[])[] = [];

  use(setup: Setup): void {
    this.#setup = setup;
    this.#answer = undefined;
    this.#positions = [];
  }

  /** Answers a question whose texts have been read before; `most` positions are told. */
  ask(texts: QuestionTexts, most: number): Findings {
    if (this.#setup === undefined) throw new Error('a question before a setup');
    const read = readQuestion(this.#setup, texts);
    if (!read.ok) throw new Error(`a question with ${read.error.length} faults`);
    this.#answer = answer(this.#setup, read.value);
    this.#positions = positionsOf(this.#answer);
    return {
      searched: this.#answer.searched,
      count: this.#answer.count,
      positionCount: this.#positions.length,
      positions: this.more(0, most),
      nearest: this.#answer.count === 0 ? nearest(this.#setup, texts) : [],
    };
  }

  /** The atlas of a neck under the limits of a question, for one grip or for all. */
  atlas(texts: QuestionTexts, neck: number, strings?: readonly number[]): Atlas {
    if (this.#setup === undefined) throw new Error('a question before a setup');
    const read = readQuestion(this.#setup, texts);
    if (!read.ok) throw new Error(`a question with ${read.error.length} faults`);
    return atlasOf(this.#setup, neck, read.value, strings);
  }

  /** Further positions of the last answer. */
  more(from: number, most: number): PositionRows[] {
    const last = this.#answer;
    if (last === undefined) return [];
    return this.#positions
      .slice(from, from + most)
      .map((places) => places.map((place) => last.at(place)));
  }
}
