/** Plays a way in time, and knows which chord is heard. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import type { TuneStep } from '$lib/arrange/tune';
import { dueAt, type Due } from '$lib/playing/due';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';
import { AlongPlayer } from '$lib/ui/band/alongPlayer.svelte';
import type { ChordPassage, TuneAnswered } from './passages';
import type { Answered } from './progression.svelte';

const FOLLOW_MS = 50;

/** What makes notes in time of an arrangement, as the setup is tuned; fetched when something is played. */
async function performing() {
  const [{ performanceOf }, { heardPitches }] = await Promise.all([
    import('$lib/playing/performance'),
    import('$lib/tuning/heard'),
  ]);
  return { performanceOf, heardPitches };
}

export class WayPlayer {
  readonly #voice: Voice;
  /** What plays in time, with the band. */
  readonly along: AlongPlayer;
  #due: readonly Due[] = [];
  #timer: ReturnType<typeof setInterval> | undefined;
  /** The chord that what is struck is of, where that is not its own number. */
  #chordOf: ((struck: number) => number | undefined) | undefined;
  /** Something is heard alone. */
  #alone = $state(false);
  #presses = 0;

  /** The chord that is heard, as an index among all of the progression; of a tune the step as it is struck. */
  index = $state<number | undefined>();
  /** What is heard of what is struck, by its number; nothing where no pattern of the hand is asked for. */
  struck = $state<number | undefined>();
  #silence = $state<string | undefined>();

  /** A file of sound is being written. */
  saving = $state(false);

  /** First and last measure that are played, from 1; all where left out. */
  from = $state<number | undefined>();
  to = $state<number | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
    this.along = new AlongPlayer(voice);
    this.along.onheard = (due) => this.#heard(due);
  }

  /** Who chooses measures to change them plays just these, and all where none are chosen any more. */
  take(measures: readonly [number, number] | undefined): void {
    [this.from, this.to] = measures ?? [];
  }

  get playing(): boolean {
    return this.#alone || this.along.playing;
  }
  /** Why there is no sound, as a sentence. */
  get silence(): string | undefined {
    return this.#silence ?? this.along.silence;
  }

  async toggle(answered: Answered, steps: readonly ArrangedStep[]): Promise<void> {
    const { chordPassage } = await import('./passages');
    await this.#toggle(() => chordPassage(answered, steps, () => this));
  }

  /** A tune, note for note. */
  async toggleTune(answered: TuneAnswered, steps: readonly TuneStep[]): Promise<void> {
    const { tunePassage } = await import('./passages');
    await this.#toggle(() => tunePassage(answered, steps, () => this));
  }

  async #toggle(passage: () => Promise<ChordPassage>): Promise<void> {
    const press = ++this.#presses;
    if (this.playing) return this.stop();
    this.#silence = undefined;
    const made = await passage();
    if (press !== this.#presses) return;
    this.#chordOf = made.chordOf;
    await this.along.play(made);
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
    const { tunePassage } = await import('./passages');
    await this.#save(await tunePassage(answered, steps, () => this), answered);
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
    const { chordPassage } = await import('./passages');
    await this.#save(await chordPassage(answered, steps, () => this), answered);
  }

  async #save(
    { once, tempo }: ChordPassage,
    { setup: { referenceHz }, progression }: Pick<Answered, 'setup' | 'progression'>,
  ): Promise<void> {
    this.saving = true;
    const name = progression.title ?? 'Progression';
    const speed = (this.along.tempo ?? tempo) / tempo;
    const played = once(speed, this.along.countIn);
    // the count is so long by which the same begins later with it
    const lead = (played.due[0]?.at ?? 0) - (once(speed).due[0]?.at ?? 0);
    const [band, { saveSound }] = await Promise.all([
      this.along.bandFor(played, speed, lead),
      import('$lib/ui/sound/saveSound'),
    ]);
    const saved = await saveSound(played.notes, { referenceHz, band }, name);
    this.saving = false;
    this.#silence = saved.ok ? undefined : saved.error;
  }

  stop(): void {
    this.along.stop();
    this.#ended();
  }

  dispose(): void {
    this.stop();
    this.#voice.dispose();
  }

  /** Notes alone, without the band. */
  async #play(notes: Parameters<Voice['play']>[0], setup: Setup): Promise<void> {
    this.#alone = true;
    this.#chordOf = undefined;
    const played = await this.#voice.play(notes, { referenceHz: setup.referenceHz });
    this.#silence = played.ok ? undefined : played.error;
    if (!played.ok) return this.#ended();
    clearInterval(this.#timer);
    this.#timer = setInterval(() => {
      const now = this.#voice.elapsed();
      if (now === undefined) this.#ended();
      else this.#heard(dueAt(this.#due, now));
    }, FOLLOW_MS);
  }

  #heard(due: number | undefined): void {
    const chordOf = this.#chordOf;
    this.struck = chordOf === undefined ? undefined : due;
    this.index = chordOf === undefined || due === undefined ? due : chordOf(due);
  }

  #ended(): void {
    clearInterval(this.#timer);
    this.#alone = false;
    this.index = undefined;
    this.struck = undefined;
  }
}
