/**
 * Which pulls would give most. The unit of work is a range of candidates: what it gives depends on
 * the setup, the question and the range alone, so ranges can be worked through in any order and on
 * any machine, and their results joined.
 */
import { withControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import {
  candidatesOn,
  pullsOf,
  type CandidateLimits,
  type Candidates,
  type PlainPull,
} from '$lib/setup/candidates';
import type { ShapeOptions } from './shapeOptions';
import { clarityWith, scoreOf } from './clarity';
import { examplesWith, type Example } from './examples';
import { gainOf } from './ease';
import { fingerprint } from './fingerprint';
import type { CandidateRange } from './ranges';
import { pullGains, type GainsQuestion } from './pullGains';
import { useGround, type UseGround } from './uses';
import { yardstick, type Wish, type Yardstick } from './yardstick';

export interface SuggestQuestion extends CandidateLimits, ShapeOptions {
  readonly control: GainsQuestion['control'];
  readonly wishes: readonly Wish[];
  /** Chords that can be played now and must not be lost. */
  readonly keep: readonly Omit<Wish, 'weight'>[];
  /** How many of the best are told; all where 0. */
  readonly limit: number;
}

export type { CandidateRange };

export interface Suggested {
  readonly candidate: number;
  readonly pulls: readonly PlainPull[];
  readonly gain: number;
  /** The gain by the clarity of its use, as `change` scores the same pulls; the order. */
  readonly score: number;
  /** What one would play first with it, three at most. */
  readonly examples: readonly Example[];
  /** The gain's parts, largest first; types that gain and lose nothing are left out. */
  readonly byType: readonly { readonly type: string; readonly gain: number }[];
  /** Chords that could not be played before on that root: semitones from C at the nut. */
  readonly opens: readonly { readonly type: string; readonly root: number }[];
}

export interface Suggestions {
  /** Tells questions apart: results of different ones cannot be joined. */
  readonly question: string;
  readonly limit: number;
  readonly candidates: number;
  /** What has been worked through, ascending, with gaps between. */
  readonly ranges: readonly CandidateRange[];
  readonly done: number;
  /** Highest score first, equal ones by number; those that give nothing are left out. */
  readonly best: readonly Suggested[];
}

/** A question with everything made ready that all its candidates share. */
export interface Suggesting {
  readonly by: Yardstick;
  readonly candidates: Candidates;
  /**
   * What a range gives; it may reach beyond the last candidate. Candidates whose score is below `least`, the
   * score of the last of the best that are known already, are left out: joined with those they would be too.
   */
  readonly within: (range: CandidateRange, least?: number) => Suggestions;
}

/** Results by another measure cannot be joined with these; the first measure was the gain alone. */
const MEASURE = 'gain by clarity';

/**
 * Makes a question ready: candidates are numbered from 0, and every range of them gives the same
 * whoever works through it. The question is taken as checked: throws where a chord type is none.
 */
export function suggesting(setup: Setup, question: SuggestQuestion): Suggesting {
  const { control, wishes, keep, limit, sizes, slants } = question;
  const by = yardstick([...wishes, ...keep.map((chord) => ({ ...chord, weight: 0 }))]);
  const candidates = candidatesOn(setup, question);
  const gains = pullGains({
    setup,
    control,
    by,
    options: { sizes, slants },
    candidates,
    keep: keep.flatMap(({ type, root }) => {
      const first = by.types.indexOf(type) * 12;
      return root === undefined
        ? Array.from({ length: 12 }, (_, chroma) => first + chroma)
        : [first + root];
    }),
  });
  const name = fingerprint(JSON.stringify([MEASURE, setupFileOf(setup), question]));
  const filled = withControl(setup, { ...control, pulls: [] });
  const ground = useGround(filled, control.id, by);
  let anything: UseGround | undefined;
  const far = (): UseGround => (anything ??= useGround(filled, control.id, by, 'anything'));

  /** A candidate with its sum. */
  interface Found {
    readonly candidate: number;
    readonly sum: number;
    readonly score: number;
  }
  const scoreAt = (candidate: number, sum: number): number =>
    scoreOf(gainOf(sum), clarityWith(ground, pullsOf(candidates, candidate)));

  /** The best by their score, `most` at most and none below `least`; `all` comes with the largest sum first. */
  function bestOf(all: readonly Omit<Found, 'score'>[], most: number, least: number): Found[] {
    const best: Found[] = [];
    for (const { candidate, sum } of all) {
      // a score is never above its gain: what follows cannot come among the best any more
      const last = best.length === most ? (best.at(-1)?.score ?? 0) : 0;
      if (gainOf(sum) < Math.max(last, least)) break;
      const score = scoreAt(candidate, sum);
      if (score < least) continue;
      const isBefore = (each: Found): boolean =>
        each.score > score || (each.score === score && each.candidate < candidate);
      let [low, high] = [0, best.length];
      while (low < high) {
        const middle = (low + high) >> 1;
        if (isBefore(best[middle] as Found)) low = middle + 1;
        else high = middle;
      }
      best.splice(low, 0, { candidate, sum, score });
      if (best.length > most) best.pop();
    }
    return best;
  }

  const told = ({ candidate, sum, score }: Found): Suggested => ({
    candidate,
    pulls: pullsOf(candidates, candidate),
    gain: gainOf(sum),
    score,
    examples: examplesWith(ground, pullsOf(candidates, candidate), far),
    byType: gains
      .sumsByTypeAt(candidate)
      .flatMap((part, type) =>
        part === 0 ? [] : [{ type: by.types[type] ?? '', gain: gainOf(part) }],
      )
      .sort((a, b) => b.gain - a.gain),
    opens: gains.newChordsAt(candidate).map((chordNumber) => ({
      type: by.types[Math.floor(chordNumber / 12)] ?? '',
      root: chordNumber - 12 * Math.floor(chordNumber / 12),
    })),
  });

  return {
    by,
    candidates,
    within([from, to], least = 0) {
      const first = Math.max(0, from);
      const last = Math.min(to, candidates.count - 1);
      const found: { candidate: number; sum: number }[] = [];
      for (let candidate = first; candidate <= last; candidate++) {
        const sum = gains.sumAt(candidate);
        if (sum !== undefined && sum > 0) found.push({ candidate, sum });
      }
      found.sort((a, b) => b.sum - a.sum || a.candidate - b.candidate);
      const best = bestOf(found, limit === 0 ? Infinity : limit, least);
      return {
        question: name,
        limit,
        candidates: candidates.count,
        ranges: first > last ? [] : [[first, last]],
        done: Math.max(0, last - first + 1),
        best: best.map(told),
      };
    },
  };
}
