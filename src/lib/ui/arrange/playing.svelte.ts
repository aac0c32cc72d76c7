/** Plays a way in time, and knows which chord is heard. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { TuneStep } from '$lib/arrange/tune';
import type { Due } from '$lib/playing/due';
import type { Performance } from '$lib/playing/performance';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';
import { ROUNDS, TimedPlayer } from '$lib/ui/sound/timedPlayer.svelte';
import type { Answered } from './progression.svelte';

/** Parts of the tempo at which a piece is learned. */
export const SPEEDS = [1, 0.75, 0.5] as const;

/** What makes notes in time of an arrangement, as the setup is tuned; fetched when something is played. */
async function performing() {
  const [{ performanceOf }, { heardPitches }] = await Promise.all([
    import('$lib/playing/performance'),
    import('$lib/tuning/heard'),
  ]);
  return { performanceOf, heardPitches };
}

/** What a tune is of. */
type TuneAnswered = Pick<Answered, 'setup' | 'progression' | 'piece' | 'wishes'>;

export class WayPlayer extends TimedPlayer {
  #due: readonly Due[] = [];
  /** The chord that what is struck is of, where that is not its own number. */
  #chordOf = $state.raw<((struck: number) => number | undefined) | undefined>();

  /** The chord that is heard, as an index among all of the progression; of a tune the step as it is struck. */
  get index(): number | undefined {
    const [heard, chordOf] = [this.heard, this.#chordOf];
    return chordOf === undefined || heard === undefined ? heard : chordOf(heard);
  }

  /** What is heard of what is struck, by its number; nothing where no pattern of the hand is asked for. */
  get struck(): number | undefined {
    return this.#chordOf === undefined ? undefined : this.heard;
  }

  /** A file of sound is being written. */
  saving = $state(false);

  speed = $state<number>(1);
  countIn = $state(true);
  round = $state(false);
  /** First and last bar that are played, from 1; all where left out. */
  from = $state<number | undefined>();
  to = $state<number | undefined>();

  async toggle(answered: Answered, steps: readonly ArrangedStep[]): Promise<void> {
    if (this.playing) return this.stop();
    const rounds = this.round ? ROUNDS : 1;
    const { notes, due, chordOf } = await this.#chords(answered, steps, rounds);
    this.#due = due;
    await this.#play(notes, answered.setup, chordOf);
  }

  /** A tune, note for note. */
  async toggleTune(answered: TuneAnswered, steps: readonly TuneStep[]): Promise<void> {
    if (this.playing) return this.stop();
    const { notes, due } = await this.#tune(answered, steps, this.round ? ROUNDS : 1);
    this.#due = due;
    await this.#play(notes, answered.setup);
  }

  /** Some of its notes alone, whatever part is asked for. */
  async hearNotes({ setup }: TuneAnswered, steps: readonly TuneStep[]): Promise<void> {
    this.stop();
    const { heardTune } = await import('$lib/playing/tuneNotes');
    const from = steps[0]?.onset.seconds ?? 0;
    this.#due = [];
    await this.#play(
      heardTune(
        setup,
        steps.map((step) => ({
          ...step,
          onset: { ...step.onset, seconds: step.onset.seconds - from },
        })),
      ),
      setup,
    );
  }

  /** The part of a tune that is asked for as a file of sound, once through. */
  async saveTune(answered: TuneAnswered, steps: readonly TuneStep[]): Promise<void> {
    const { notes } = await this.#tune(answered, steps, 1);
    await this.#save(notes, answered);
  }

  /** One chord alone. */
  async hear(answered: Answered, step: ArrangedStep): Promise<void> {
    this.stop();
    const { setup, progression } = answered;
    const { performanceOf, heardPitches } = await performing();
    const { notes, due } = performanceOf({
      setup,
      progression,
      steps: [step],
      pitchesOf: (each) => heardPitches(setup, each.hold),
      part: [step.index, step.index],
    });
    this.#due = due;
    await this.#play(notes, setup);
  }

  /** Some measures of an arrangement alone, from and up to a number from 0, whatever part is asked for. */
  async hearBars(
    answered: Answered,
    steps: readonly ArrangedStep[],
    [from, to]: readonly [number, number],
  ): Promise<void> {
    this.stop();
    const own = steps.filter(({ step: { bar } }) => bar >= from && bar < to);
    const [first, last] = [own[0], own.at(-1)];
    if (first === undefined || last === undefined) return;
    const { setup, progression } = answered;
    const { performanceOf, heardPitches } = await performing();
    const { notes } = performanceOf({
      ...{ setup, progression, steps: own, part: [first.index, last.index] },
      pitchesOf: (each) => heardPitches(setup, each.hold),
    });
    this.#due = [];
    await this.#play(notes, setup);
  }

  /** The part that is asked for as a file of sound, once through. */
  async save(answered: Answered, steps: readonly ArrangedStep[]): Promise<void> {
    const { notes } = await this.#chords(answered, steps, 1);
    await this.#save(notes, answered);
  }

  async #save(
    notes: Parameters<Voice['play']>[0],
    { setup: { referenceHz }, progression }: Pick<Answered, 'setup' | 'progression'>,
  ): Promise<void> {
    this.saving = true;
    const name = progression.title ?? 'Progression';
    const { saveSound } = await import('$lib/ui/sound/saveSound');
    const saved = await saveSound(notes, { referenceHz }, name);
    this.saving = false;
    this.silence = saved.ok ? undefined : saved.error;
  }

  async #play(
    notes: Parameters<Voice['play']>[0],
    setup: Setup,
    chordOf?: (struck: number) => number | undefined,
  ): Promise<void> {
    this.#chordOf = chordOf;
    await this.play(notes, setup, this.#due);
  }

  /** Chords as they are usually struck, or in the patterns that are wished. */
  async #chords(
    answered: Answered,
    steps: readonly ArrangedStep[],
    rounds: number,
  ): Promise<Performance & { readonly chordOf?: (struck: number) => number | undefined }> {
    const { setup, progression, piece: written, wishes } = answered;
    if (wishes.strikes === undefined) return this.#performance(answered, steps, rounds);
    const [{ tunePerformance }, { struckChords }] = await Promise.all([
      import('$lib/playing/tunePerformance'),
      import('$lib/playing/struckChords'),
    ]);
    const { piece, struck } = struckChords(setup, progression, steps, wishes.strikes, written);
    return {
      ...tunePerformance({
        ...{ setup, piece, steps: struck, speed: this.speed, countIn: this.countIn, rounds },
        ...this.#measures(piece),
      }),
      chordOf: (number) => steps[struck[number]?.of ?? -1]?.index,
    };
  }

  async #performance(
    answered: Answered,
    steps: readonly ArrangedStep[],
    rounds: number,
  ): Promise<Performance> {
    const { setup, progression } = answered;
    const { performanceOf, heardPitches } = await performing();
    return performanceOf({
      setup,
      progression,
      steps,
      pitchesOf: (step) => heardPitches(setup, step.hold),
      speed: this.speed,
      countIn: this.countIn,
      rounds,
      ...this.#part(answered),
    });
  }

  async #tune(
    { setup, progression, piece = pieceOf(progression), wishes }: TuneAnswered,
    steps: readonly TuneStep[],
    rounds: number,
  ): Promise<Performance> {
    const [{ tunePerformance }, { struckSteps }] = await Promise.all([
      import('$lib/playing/tunePerformance'),
      import('$lib/arrange/strike'),
    ]);
    return tunePerformance({
      steps: struckSteps(setup, piece, steps, wishes.strikes),
      ...{ setup, piece, speed: this.speed, countIn: this.countIn, rounds },
      ...this.#measures(piece),
    });
  }

  /** The measures that are asked for, as they are written. */
  #measures({ measures: { length: most } }: Piece): { part?: readonly [number, number] } {
    const part = [Math.max(1, this.from ?? 1), Math.min(most, this.to ?? most)] as const;
    return part[0] === 1 && part[1] === most ? {} : { part };
  }

  /** The bars that are asked for, as first and last chord. */
  #part({ progression }: Answered): { part?: readonly [number, number] } {
    const ends = progression.bars.map(
      (_, bar) => progression.bars.slice(0, bar + 1).flatMap(({ slots }) => slots).length,
    );
    const from = Math.max(1, this.from ?? 1);
    const to = Math.min(ends.length, this.to ?? ends.length);
    if (to < from || (from === 1 && to === ends.length)) return {};
    return { part: [ends[from - 2] ?? 0, (ends[to - 1] ?? 1) - 1] };
  }
}
