/** A round that is answered by playing: the microphone hears what is asked, and the round goes on by itself. */
import type { PlayedGrip } from '$lib/hearing/playedGrip';
import { COUNTED_S, SHOWN_AFTER_S, answersElsewhere, byPlaying } from '$lib/practice/byPlaying';
import { IN_TUNE_CENTS, type Task } from '$lib/practice/task';
import { pitchesOf } from '$lib/search/hold';
import { expectedOf } from '$lib/ui/hearing/expected';
import type { GripEar } from '$lib/ui/hearing/gripEar';
import type { Round } from './round.svelte';

/** What of an ear is needed. */
export type PracticeEar = Pick<
  GripEar,
  'open' | 'close' | 'listenFor' | 'onplayed' | 'onstroke' | 'ontrouble' | 'onlost'
>;

/** A right answer stays to be seen for so long before the next card comes. */
const GOES_ON_MS = 2500;
/** After a wrong answer what is to be heard is played again so much later. */
const AGAIN_MS = 1800;
/** An answer that was shown and cannot be played goes on after so many tries. */
const TRIES = 3;

export class PracticeHearing {
  readonly #ear: PracticeEar;
  readonly #next: () => void;
  readonly #again: () => void;
  #round: Round | undefined;
  #task: Task | undefined;
  #later: ReturnType<typeof setTimeout> | undefined;
  #idle: ReturnType<typeof setTimeout> | undefined;
  /** What is heard is the page's own: how many times it was begun. */
  #sounding = 0;
  #isDeaf = false;
  /** The latest stroke was one of strings, and no knock. */
  #rang = false;
  #shownTries = 0;

  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why it does not listen, or what disturbs, as a sentence. */
  trouble = $state('');
  /** Strokes of the number that is being struck. */
  strokes = $state(0);

  /**
   * @param next asks the next card
   * @param again plays once more what is to be heard
   */
  constructor(ear: PracticeEar, next: () => void, again: () => void) {
    this.#ear = ear;
    this.#next = next;
    this.#again = again;
    ear.onplayed = (played) => this.#played(played);
    ear.onstroke = () => this.#struck();
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
    this.#forget();
    this.#ear.close();
    this.state = 'off';
    this.trouble = '';
    if (this.#round !== undefined) this.#round.isHeard = false;
  }

  /** Another card is asked, or none. */
  follow(round: Round | undefined, task: Task | undefined): void {
    if (task === this.#task && round === this.#round) return;
    this.#forget();
    this.#shownTries = 0;
    this.#round = round;
    this.#task = task;
    this.#expect();
  }

  /** What the page plays itself from when `begun` is settled, for so many seconds, is no answer. */
  async sounds(begun: Promise<void>, seconds: number): Promise<void> {
    const number = ++this.#sounding;
    this.#isDeaf = true;
    await begun;
    await new Promise((done) => setTimeout(done, 1000 * seconds));
    if (number !== this.#sounding) return;
    this.#isDeaf = false;
    this.#expect();
  }

  #forget(): void {
    clearTimeout(this.#later);
    clearTimeout(this.#idle);
    this.strokes = 0;
  }

  /** Strokes from now on are an answer to the card. */
  #expect(): void {
    const round = this.#round;
    if (round === undefined || this.state !== 'on') return;
    round.isHeard = true;
    const asked = this.#task && byPlaying(this.#task);
    if (asked === undefined || this.#isDeaf) return;
    this.#ear.listenFor(expectedOf(round.setup, asked.hold));
    this.#waits();
  }

  /** Nobody has a hand free to ask for the answer: after a time it is shown. */
  #waits(): void {
    clearTimeout(this.#idle);
    this.#idle = setTimeout(() => this.#round?.show(), 1000 * SHOWN_AFTER_S);
  }

  /** A stroke, of whatever: where a number is struck it counts. */
  #struck(): void {
    const round = this.#round;
    if (round === undefined || this.#isDeaf || round.ended !== undefined) return;
    this.#waits();
    if (this.#task === undefined || byPlaying(this.#task)?.by !== 'strokes') return;
    this.strokes++;
    this.#rang = false;
    clearTimeout(this.#later);
    this.#later = setTimeout(() => this.#counted(), 1000 * COUNTED_S);
  }

  #counted(): void {
    const { strokes } = this;
    this.strokes = 0;
    const [round, task] = [this.#round, this.#task];
    if (round === undefined || task?.kind !== 'name' || !this.#rang) return;
    if (strokes > task.choices.length) {
      round.told = `${strokes} strokes were heard, and there are ${task.choices.length} answers.`;
      return;
    }
    round.choose(strokes - 1);
    this.#goesOn();
  }

  /** Goes on by itself where the card has ended well. */
  #goesOn(): void {
    if (this.#round?.ended !== 'right') return;
    this.#forget();
    this.#later = setTimeout(() => this.#next(), GOES_ON_MS);
  }

  #played(played: PlayedGrip): void {
    const [round, task] = [this.#round, this.#task];
    if (round === undefined || task === undefined || this.#isDeaf) return;
    if (round.ended === 'shown') this.#playedShown(played);
    if (round.ended !== undefined) return;
    if (byPlaying(task)?.by === 'strokes') {
      this.#rang = true;
      return;
    }
    const wrong = this.#isElsewhere(played) ? undefined : whyWrong(task, played);
    if (wrong === undefined) {
      round.heardRight();
      this.#goesOn();
    } else if (played.settled) {
      round.heardWrong(wrong);
      if (task.kind === 'hear') this.#later = setTimeout(() => this.#again(), AGAIN_MS);
    }
  }

  /** What is asked was played at another position, as far as its notes can be told. */
  #isElsewhere({ settled, right, sounds, foreign }: PlayedGrip): boolean {
    const [round, task] = [this.#round, this.#task];
    if (right || !settled || round === undefined || task === undefined) return false;
    const asked = byPlaying(task);
    if (asked === undefined) return false;
    const own = pitchesOf(round.setup, asked.hold).filter((_, at) => sounds[at] === true);
    return answersElsewhere(task, [...own, ...foreign]);
  }

  /** An answer that was shown is played, and leads on; what does not come right leads on as well. */
  #playedShown({ right, settled }: PlayedGrip): void {
    if (settled) this.#shownTries++;
    if (!right && this.#shownTries < TRIES) return;
    this.#forget();
    this.#next();
  }
}

/** What is wrong with what was played, as a sentence. */
function whyWrong(task: Task, { right, worst, sounds, foreign }: PlayedGrip): string | undefined {
  if (task.kind === 'hear') return right ? undefined : 'Not that. Listen again.';
  if (foreign.length > 0) return 'Other notes are heard as well.';
  const silent = sounds.filter((each) => !each).length;
  if (!right) return `${silent === 1 ? 'One string is' : `${silent} strings are`} not heard.`;
  if (task.kind !== 'tune' || (worst !== undefined && Math.abs(worst) <= IN_TUNE_CENTS))
    return undefined;
  return worst === undefined
    ? 'How far off the strings are cannot be told.'
    : `The farthest string is ${Math.round(Math.abs(worst))} cents ${worst > 0 ? 'sharp' : 'flat'}.`;
}
