/** A round that is answered by playing: the microphone hears the grip that is asked, and goes on by itself. */
import type { PlayedGrip } from '$lib/hearing/playedGrip';
import type { Hold } from '$lib/search/hold';
import { expectedOf } from '$lib/ui/hearing/expected';
import type { GripEar } from '$lib/ui/hearing/gripEar';
import { IN_TUNE_CENTS, type Task } from '$lib/practice/task';
import type { Round } from './round.svelte';

/** What of an ear is needed. */
export type PracticeEar = Pick<
  GripEar,
  'open' | 'close' | 'listenFor' | 'onplayed' | 'ontrouble' | 'onlost'
>;

/** A right answer stays to be seen for so long before the next card comes. */
const GOES_ON_MS = 2500;

/** What is to be played for a card; nothing where it is answered otherwise. */
export const playedFor = (task: Task | undefined): Hold | undefined =>
  task?.kind === 'find' || task?.kind === 'move' || task?.kind === 'tune' ? task.hold : undefined;

export class PracticeHearing {
  readonly #ear: PracticeEar;
  readonly #next: () => void;
  #round: Round | undefined;
  #task: Task | undefined;
  #on: ReturnType<typeof setTimeout> | undefined;

  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why it does not listen, or what disturbs, as a sentence. */
  trouble = $state('');

  /** @param next asks the next card */
  constructor(ear: PracticeEar, next: () => void) {
    this.#ear = ear;
    this.#next = next;
    ear.onplayed = (played) => this.#played(played);
    ear.ontrouble = (sentence) => (this.trouble = sentence);
    ear.onlost = (sentence) => {
      this.stop();
      this.trouble = sentence;
    };
  }

  /** Opens the microphone, in answer to a touch. */
  async start(): Promise<void> {
    this.trouble = '';
    this.state = 'asking';
    const opened = await this.#ear.open();
    // stopped while the player was asked
    if ((this.state as string) === 'off') {
      this.#ear.close();
      return;
    }
    this.state = opened.ok ? 'on' : 'off';
    if (!opened.ok) this.trouble = opened.error;
    this.#expect();
  }

  stop(): void {
    clearTimeout(this.#on);
    this.#ear.close();
    this.state = 'off';
    this.trouble = '';
    if (this.#round !== undefined) this.#round.isHeard = false;
  }

  /** Another card is asked, or none. */
  follow(round: Round | undefined, task: Task | undefined): void {
    if (task === this.#task && round === this.#round) return;
    clearTimeout(this.#on);
    this.#round = round;
    this.#task = task;
    this.#expect();
  }

  #expect(): void {
    const round = this.#round;
    if (round === undefined || this.state !== 'on') return;
    round.isHeard = true;
    const hold = playedFor(this.#task);
    if (hold === undefined) return;
    this.#ear.listenFor(expectedOf(round.setup, hold));
  }

  #played({ right, settled, worst, sounds, foreign }: PlayedGrip): void {
    const round = this.#round;
    const task = this.#task;
    if (round === undefined || playedFor(task) === undefined || round.ended !== undefined) return;
    // a first look may still change
    if (!right) {
      if (!settled) return;
      const silent = sounds.filter((each) => !each).length;
      round.heardWrong(
        foreign.length > 0
          ? 'Other notes are heard as well.'
          : `${silent === 1 ? 'One string is' : `${silent} strings are`} not heard.`,
      );
      return;
    }
    if (task?.kind === 'tune' && (worst === undefined || Math.abs(worst) > IN_TUNE_CENTS)) {
      if (settled && worst !== undefined)
        round.heardWrong(`The farthest string is ${Math.round(Math.abs(worst))} cents off.`);
      return;
    }
    round.heardRight();
    this.#on = setTimeout(() => this.#next(), GOES_ON_MS);
  }
}
