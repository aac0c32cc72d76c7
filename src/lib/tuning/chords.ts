/** How pure a use sounds under a tuning: how far its tones lie from just intonation, and what beats. */
import { hzOf } from '$lib/theory/pitch';
import { openMidi, type Setup } from '$lib/setup/setup';
import { movesOf } from '$lib/setup/sounding';
import { intervalRatio, justOffset, justRatio, type Ratio, type Seventh } from './justRatios';
import { offsetAt, type Stop } from './stops';
import type { Use } from './uses';

/** Partials above the eighth are too faint for their beating to be heard in a chord. */
const HEARD_PARTIALS = 8;

export interface BeatingPair {
  readonly strings: readonly [low: number, high: number];
  readonly ratio: Ratio;
  /** Beats a second of the lowest partials that nearly meet. */
  readonly beatsHz: number;
}

export interface ChordPurity {
  /** Root mean square of the tones' deviations from just intonation, in cents. */
  readonly residual: number;
  /** Sum of their squares, times the weight of the use. */
  readonly weighted: number;
  /** By string of the use: cents from just intonation, the chord lying where it fits best. */
  readonly deviations: readonly number[];
  /** Cents from equal temperament, by string of the use. */
  readonly offsets: readonly number[];
  /** Frequencies at the use's fret, by string. */
  readonly hz: readonly number[];
  readonly pairs: readonly BeatingPair[];
  /** Of the pair that beats fastest; 0 where none is heard. */
  readonly beatsHz: number;
}

/** Beats a second between two notes near a ratio: of partial `under` above, `over` below. */
export const beats = (lowHz: number, highHz: number, [over, under]: Ratio): number =>
  Math.abs(under * highHz - over * lowHz);

/** The purity of a use under offsets by stop. */
export function purityOf(
  setup: Setup,
  stops: readonly Stop[],
  offsets: ArrayLike<number>,
  use: Use,
  seventh?: Seventh,
): ChordPurity {
  const own = use.strings.map((string) =>
    offsetAt(setup, stops, { neck: use.neck, string, engaged: use.engaged }, offsets),
  );
  const just = use.tones.map((degree) => justOffset(degree, use.degrees, seventh));
  const away = own.map((offset, tone) => offset - (just[tone] ?? 0));
  const shift = away.reduce((sum, each) => sum + each, 0) / Math.max(1, away.length);
  const deviations = away.map((each) => each - shift);
  const squares = deviations.reduce((sum, each) => sum + each ** 2, 0);

  const neck = setup.necks[use.neck - 1];
  const open = neck ? openMidi(neck) : [];
  const moves = movesOf(setup, use.neck, use.engaged);
  const midi = use.strings.map(
    (string) => (open[string - 1] ?? 0) + (moves[string - 1] ?? 0) + use.fret,
  );
  const hz = midi.map(
    (pitch, tone) => hzOf(pitch, setup.referenceHz) * 2 ** ((own[tone] ?? 0) / 1200),
  );
  const ratios = use.tones.map((degree) => justRatio(degree, use.degrees, seventh));
  const pairs: BeatingPair[] = [];
  for (let a = 0; a < midi.length; a++)
    for (let b = a + 1; b < midi.length; b++) {
      const [low, high] = (midi[a] ?? 0) <= (midi[b] ?? 0) ? [a, b] : [b, a];
      const semitones = (midi[high] ?? 0) - (midi[low] ?? 0);
      const ratio = intervalRatio(ratios[low] ?? [1, 1], ratios[high] ?? [1, 1], semitones);
      if (Math.max(...ratio) > HEARD_PARTIALS) continue;
      pairs.push({
        strings: [use.strings[low] ?? 0, use.strings[high] ?? 0],
        ratio,
        beatsHz: beats(hz[low] ?? 0, hz[high] ?? 0, ratio),
      });
    }
  return {
    residual: Math.sqrt(squares / Math.max(1, deviations.length)),
    weighted: use.weight * squares,
    deviations,
    offsets: own,
    hz,
    pairs,
    beatsHz: Math.max(0, ...pairs.map(({ beatsHz }) => beatsHz)),
  };
}
