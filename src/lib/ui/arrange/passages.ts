/** What is played of an arrangement or a tune, in the part that is asked for by then. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Piece } from '$lib/arrange/piece';
import { DEFAULT_TEMPO, type Progression } from '$lib/arrange/progression';
import type { TuneStep } from '$lib/arrange/tune';
import type { Once, Passage } from '$lib/ui/band/alongPlayer.svelte';
import type { Answered } from './progression.svelte';

/** What a tune is of. */
export type TuneAnswered = Pick<Answered, 'setup' | 'progression' | 'piece' | 'wishes'>;

/** First and last measure that are asked for, from 1; all where left out. */
export interface Asked {
  readonly from: number | undefined;
  readonly to: number | undefined;
}

/** A passage, and which chord what is struck is of, where that is not its own number. */
export interface ChordPassage extends Passage {
  readonly chordOf?: (struck: number) => number | undefined;
}

/** The measures that are asked for, of so many. */
function partOf({ from, to }: Asked, most: number): readonly [number, number] {
  const part = [Math.max(1, from ?? 1), Math.min(most, to ?? most)] as const;
  return part[1] < part[0] ? [1, most] : part;
}

/** Quarter notes a minute where a part begins, in bars of the piece's metre. */
const tempoOf = ({ tempo = DEFAULT_TEMPO }: Pick<Progression, 'tempo'>): number => tempo;

/** Chords as they are usually struck, or in the patterns that are wished. */
export async function chordPassage(
  answered: Answered,
  steps: readonly ArrangedStep[],
  asked: () => Asked,
): Promise<ChordPassage> {
  const { setup, progression, piece: written, wishes } = answered;
  const about = { referenceHz: setup.referenceHz, tempo: tempoOf(progression) };
  if (wishes.strikes !== undefined) {
    const { struckChords } = await import('$lib/playing/struckChords');
    const { piece, struck } = struckChords(setup, progression, steps, wishes.strikes, written);
    return {
      ...about,
      once: await tuneOnce(answered, piece, struck, asked),
      chordOf: (number) => steps[struck[number]?.of ?? -1]?.index,
    };
  }
  const [{ performanceOf }, { heardPitches }, { measuresFor }] = await Promise.all([
    import('$lib/playing/performance'),
    import('$lib/tuning/heard'),
    import('$lib/arrange/chordSteps'),
  ]);
  const { piece, measures } = measuresFor(progression, written ?? pieceOf(progression));
  const ends = progression.bars.map(
    (_, bar) => progression.bars.slice(0, bar + 1).flatMap(({ slots }) => slots).length,
  );
  const { inOrder } = await import('$lib/arrange/inOrder');
  const before = inOrder(piece).measures.length - measures.length;
  return {
    ...about,
    once(speed, countIn = false): Once {
      const [from, to] = partOf(asked(), ends.length);
      const part = [ends[from - 2] ?? 0, (ends[to - 1] ?? 1) - 1] as const;
      return {
        ...performanceOf({
          ...{ setup, progression, steps, speed, countIn, part },
          pitchesOf: (step) => heardPitches(setup, step.hold),
        }),
        piece,
        part: [before + from - 1, before + to],
      };
    },
  };
}

/** A tune, note for note. */
export async function tunePassage(
  answered: TuneAnswered,
  steps: readonly TuneStep[],
  asked: () => Asked,
): Promise<Passage> {
  const { setup, progression, piece = pieceOf(progression), wishes } = answered;
  const { struckSteps } = await import('$lib/arrange/strike');
  const struck = struckSteps(setup, piece, steps, wishes.strikes);
  return {
    referenceHz: setup.referenceHz,
    tempo: tempoOf(piece),
    once: await tuneOnce(answered, piece, struck, asked),
  };
}

async function tuneOnce(
  { setup }: Pick<TuneAnswered, 'setup'>,
  piece: Piece,
  steps: readonly TuneStep[],
  asked: () => Asked,
): Promise<Passage['once']> {
  const [{ tunePerformance, playedPart }, { inOrder }] = await Promise.all([
    import('$lib/playing/tunePerformance'),
    import('$lib/arrange/inOrder'),
  ]);
  const { measures } = inOrder(piece);
  return (speed, countIn = false) => {
    const part = partOf(asked(), piece.measures.length);
    return {
      ...tunePerformance({ setup, piece, steps, speed, countIn, part }),
      piece,
      part: playedPart(measures, part),
    };
  };
}
