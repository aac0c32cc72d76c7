/** How well grips are heard, as a table: by instrument, by size, by noise. */
import { hearGrip } from '$lib/hearing/hear';
import { fallsOn } from './heardMixes';

/** A grip whose truth is known. */
export interface KnownGrip {
  /** What it is counted under, such as its instrument. */
  readonly kinds: readonly string[];
  readonly samples: Float32Array;
  readonly sampleRate: number;
  /** Notes that are expected, as MIDI numbers. */
  readonly wanted: readonly number[];
  /** By note: cents from equal temperament; nothing where it does not sound. */
  readonly cents: readonly (number | undefined)[];
  readonly foreign?: number | undefined;
  /** What a band plays meanwhile, as MIDI numbers, where the page knows it. */
  readonly band?: readonly number[];
}

/** How far the heard cents are off, and how often presence was right. */
export interface Score {
  readonly errors: number[];
  right: number;
  asked: number;
}

/** Scores over all grips, octaves counted apart. */
export interface Scores {
  readonly apart: Score;
  readonly octaves: Score;
  readonly byKind: ReadonlyMap<string, Score>;
  /** Foreign notes that were told, of how many; and grips without one in which one was told. */
  readonly foreign: { told: number; of: number; wrong: number; without: number };
}

const hzOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

const fresh = (): Score => ({ errors: [], right: 0, asked: 0 });

/** The value below which so great a part of them lies. */
export function within({ errors }: Score, part: number): number {
  const sorted = [...errors].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN;
}

/** Of all strings, octaves too, the part of which it was told rightly whether they sound. */
export const presentOf = ({ apart, octaves }: Scores): number =>
  (apart.right + octaves.right) / (apart.asked + octaves.asked);

/** What is heard from the first so many seconds of each grip. */
export function scoresOf(grips: readonly KnownGrip[], seconds: number): Scores {
  const [apart, octaves] = [fresh(), fresh()];
  const byKind = new Map<string, Score>();
  const foreign = { told: 0, of: 0, wrong: 0, without: 0 };
  for (const grip of grips) {
    const { wanted, samples, sampleRate } = grip;
    const heard = hearGrip(
      samples.subarray(0, Math.round(seconds * sampleRate)),
      sampleRate,
      wanted.map(hzOf),
      440,
      grip.band?.map(hzOf),
    );
    wanted.forEach((midi, at) => {
      const told = heard.strings[at];
      const truth = grip.cents[at];
      const shared = fallsOn(
        midi,
        wanted.filter((_, other) => other !== at),
      );
      const scores = [shared ? octaves : apart];
      for (const kind of shared ? [] : grip.kinds) {
        if (!byKind.has(kind)) byKind.set(kind, fresh());
        scores.push(byKind.get(kind) as Score);
      }
      for (const score of scores) {
        score.asked += 1;
        if (told?.sounds === (truth !== undefined)) score.right += 1;
        if (told?.cents !== undefined && truth !== undefined)
          score.errors.push(Math.abs(told.cents - truth));
      }
    });
    if (grip.foreign === undefined) {
      foreign.without += 1;
      if (heard.extra.length > 0) foreign.wrong += 1;
    } else {
      foreign.of += 1;
      if (heard.extra.some(({ midi }) => midi === grip.foreign)) foreign.told += 1;
    }
  }
  return { apart, octaves, byKind, foreign };
}

const row = (name: string, score: Score): string =>
  [
    name.padEnd(24),
    String(score.errors.length).padStart(5),
    within(score, 0.5).toFixed(2).padStart(7),
    within(score, 0.95).toFixed(2).padStart(7),
    `${((100 * score.right) / score.asked).toFixed(1)} %`.padStart(8),
  ].join(' ');

/** The table as text. */
export function tableOf(title: string, scores: Scores): string {
  const { apart, octaves, byKind, foreign } = scores;
  return [
    title,
    `${' '.repeat(24)} notes  median  95 of 100   present`,
    row('all but octaves', apart),
    ...[...byKind].sort().map(([kind, score]) => row(`  ${kind}`, score)),
    row('octaves', octaves),
    `present or absent rightly, octaves too: ${(100 * presentOf(scores)).toFixed(1)} %`,
    `foreign notes told: ${foreign.told} of ${foreign.of}; told where there was none: ${foreign.wrong} of ${foreign.without}`,
  ].join('\n');
}
