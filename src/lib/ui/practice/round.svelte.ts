/** A round that is under way: the card that is asked, what is laid down for it, and how it was answered. */
import { soundOf } from '$lib/answers/sound';
import { rightWords, wrongWords } from '$lib/answers/practiceWords';
import type { Answers, Card } from '$lib/practice/cards';
import { turnOf } from '$lib/practice/cards';
import { gradeOf, judge, type Judged } from '$lib/practice/judge';
import { MOST_NEW, ROUND_MINUTES, nextCard, type RoundOf } from '$lib/practice/round';
import type { Answered, Grade } from '$lib/practice/schedule';
import type { Task } from '$lib/practice/task';
import type { CoursePosition } from '$lib/practice/position';
import type { Result } from '$lib/result';
import { picked, pressed, straightened, type Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';

/** What a round asks of the place that it is in. */
export interface RoundOn {
  readonly setup: Setup;
  readonly course: readonly CoursePosition[];
  /** As they are now. */
  answers(): Answers;
  task(card: string, turn: number): Promise<Result<Task | undefined, string>>;
  keep(card: string, answer: Answered): void;
  takeBack(card: string, answer: Answered): void;
  /** Milliseconds since 1970. */
  now(): number;
  dayBegan(): number;
  /** New cards that may come today. */
  readonly mostNew?: number;
}

interface Past {
  readonly card: Card;
  readonly answer: Answered;
}

export class Round {
  readonly #on: RoundOn;
  readonly #began: number;
  #asked = 0;
  #tries = 0;
  #begun = 0;
  #last: string | undefined;

  card = $state.raw<Card | undefined>();
  task = $state.raw<Task | undefined>();
  /** What is laid down on the neck as an answer. */
  hold = $state.raw<Hold | undefined>();
  /** The choices that were tried and are wrong. */
  tried = $state.raw<readonly number[]>([]);
  /** How the card ended: then it goes on to the next. */
  ended = $state<'right' | 'shown' | undefined>();
  judged = $state.raw<Judged | undefined>();
  /** What is said of the last answer. */
  told = $state('');
  /** Why a pedal or lever was released. */
  notice = $state('');
  /** Why the next card cannot be had, as a sentence. */
  failure = $state<string | undefined>();
  /** Cards that are through, and of these those that were right without help. */
  through = $state(0);
  right = $state(0);
  /** Nothing comes any more, or the time is over. */
  over = $state(false);
  past = $state.raw<readonly Past[]>([]);
  isHeard = $state(false);

  constructor(on: RoundOn) {
    this.#on = on;
    this.#began = on.now();
  }

  get setup(): Setup {
    return this.#on.setup;
  }
  /** Of the ten minutes the part that is over, 0 … 1. */
  get part(): number {
    return Math.min(1, (this.#on.now() - this.#began) / (ROUND_MINUTES * 60_000));
  }
  /** On the neck it is answered, and not by a choice. */
  readonly isLaid = $derived(this.task?.kind === 'find' || this.task?.kind === 'move');

  #of(): RoundOf {
    const { course, mostNew = MOST_NEW } = this.#on;
    const [now, dayBegan] = [this.#on.now(), this.#on.dayBegan()];
    return { course, answers: this.#on.answers(), now, dayBegan, mostNew, isHeard: this.isHeard };
  }

  /** Asks the next card, or ends the round. */
  async next(): Promise<void> {
    const card = this.part >= 1 ? undefined : nextCard(this.#of(), this.#last);
    if (card === undefined) {
      this.card = this.task = undefined;
      this.over = true;
      return;
    }
    await this.#ask(card);
  }

  async #ask(card: Card): Promise<void> {
    const number = ++this.#begun;
    const turn = turnOf(this.#on.answers().get(card.id));
    const asked = await this.#on.task(card.id, turn);
    if (number !== this.#begun) return;
    if (!asked.ok || asked.value === undefined) {
      this.failure = asked.ok ? 'This card is none of the course any more.' : asked.error;
      return;
    }
    this.failure = undefined;
    this.card = card;
    this.task = asked.value;
    this.hold = startOf(asked.value);
    this.tried = [];
    this.ended = this.judged = undefined;
    this.told = this.notice = '';
    this.#tries = 0;
    this.#asked = this.#on.now();
  }

  moveBar(fret: number): void {
    this.#lay((hold) => straightened(this.setup, { ...hold, fret }));
  }
  pick(string: number): void {
    this.#lay((hold) => picked(this.setup, hold, string));
  }
  press(id: string): void {
    this.#lay((hold) => {
      const now = pressed(this.setup, hold, id);
      this.notice = now.letGo;
      return now.hold;
    });
  }
  slant(slant: number): void {
    this.#lay((hold) => straightened(this.setup, { ...hold, slant }));
  }

  #lay(change: (hold: Hold) => Hold): void {
    if (!this.isLaid || this.ended !== undefined || this.hold === undefined) return;
    this.notice = '';
    this.hold = change(this.hold);
    this.told = '';
  }

  /** Looks at what is laid down. */
  check(): void {
    const { task, hold } = this;
    if (this.ended !== undefined || hold === undefined) return;
    if (task?.kind !== 'find' && task?.kind !== 'move') return;
    const judged = judge(this.setup, task, hold);
    if (judged.right) {
      this.judged = judged;
      this.#end('right');
      return;
    }
    if (judged.wrong !== 'nothing') this.#tries++;
    const sounds = hold.strings.length < 2 ? undefined : soundOf(this.setup, hold, undefined, 1);
    this.told = wrongWords(task, judged.wrong, sounds?.names[0]?.symbol);
  }

  /** One of the answers is chosen, counted from 0. */
  choose(place: number): void {
    const { task } = this;
    if (this.ended !== undefined || (task?.kind !== 'name' && task?.kind !== 'hear')) return;
    if (place >= task.choices.length || this.tried.includes(place)) return;
    if (place === task.right) {
      this.#end('right');
      return;
    }
    this.#tries++;
    this.tried = [...this.tried, place];
    this.told = 'Not that one. Try again.';
  }

  /** It was played, and heard to be right. */
  heardRight(): void {
    const { task } = this;
    if (this.ended !== undefined || task === undefined) return;
    if ('hold' in task) this.hold = task.hold;
    this.#end('right');
  }

  /** It was played, and heard not to be right. */
  heardWrong(sentence: string): void {
    if (this.ended !== undefined) return;
    this.#tries++;
    this.told = sentence;
  }

  /** The answer is shown; the card comes again soon. */
  show(): void {
    const { task } = this;
    if (this.ended !== undefined || task === undefined) return;
    if ('hold' in task) this.hold = task.hold;
    this.#end('shown');
  }

  #end(how: 'right' | 'shown'): void {
    const { card, task } = this;
    if (card === undefined || task === undefined) return;
    const now = this.#on.now();
    const seconds = (now - this.#asked) / 1000;
    const grade: Grade = gradeOf(how, this.#tries + (how === 'right' ? 1 : 0), seconds);
    const answer = { at: Math.floor(now / 1000), grade };
    this.ended = how;
    this.told = how === 'right' ? 'Right.' : rightWords(this.setup, task);
    this.through++;
    if (grade !== 'again') this.right++;
    this.past = [...this.past, { card, answer }];
    this.#last = card.id;
    this.#on.keep(card.id, answer);
  }

  /** Takes the last answer back and asks its card once more. */
  async undo(): Promise<void> {
    const last = this.past.at(-1);
    if (last === undefined) return;
    this.past = this.past.slice(0, -1);
    this.through--;
    if (last.answer.grade !== 'again') this.right--;
    this.over = false;
    this.#on.takeBack(last.card.id, last.answer);
    await this.#ask(last.card);
  }
}

/** Where the hands are when a card is asked. */
function startOf(task: Task): Hold | undefined {
  switch (task.kind) {
    case 'find':
      // the bar lies at the edge of the region, which gives nothing away
      return { neck: task.neck, fret: task.frets[0], slant: 0, engaged: [], strings: [] };
    case 'move':
      return task.from;
    case 'name':
    case 'tune':
      return task.hold;
    case 'hear':
      return task.plays[0];
  }
}
