/**
 * Plays a passage with its band, round and round where that is wished, and knows what is heard. Tempo, loop,
 * levels and feel may be changed while it plays. What sounds is fetched when something is played.
 */
import type { Piece } from '$lib/arrange/piece';
import { dueAt, type Due } from '$lib/playing/due';
import type { ScheduledNote } from '$lib/playing/schedule';
import type { Along, Voice } from '$lib/sound/voice';
import type { Round, Session } from '$lib/sound/band/session';
import type { StayAwake } from '$lib/ui/kit/stayAwake';
import type { BandNote } from '$lib/playing/band/band';
import type { BandChoices } from './bandChoices.svelte';

const FOLLOW_MS = 50;

/** A passage once through, and what of a piece it is. */
export interface Once {
  /** In seconds at the speed that was asked for. */
  readonly notes: readonly ScheduledNote[];
  readonly due: readonly Due[];
  /** Seconds until it begins anew. */
  readonly length: number;
  /** What the band follows. */
  readonly piece: Piece;
  /** The first of its measures as they are played, and the one after the last, from 0. */
  readonly part: readonly [number, number];
}

/** What is played. */
export interface Passage {
  readonly referenceHz: number;
  /** Quarter notes a minute at its beginning, as written. */
  readonly tempo: number;
  /** As it is to be played now, at a speed (1 as it is written); with a measure of clicks before it for a file. */
  readonly once: (speed: number, countIn?: boolean) => Once;
}

/** Puts actions at their places at the written tempo. */
const placed = (actions: ReturnType<Along['actionsOf']>, speed: number): Round['actions'] =>
  actions.map((action) => ({
    ...action,
    at: action.at * speed,
    ...('over' in action ? { over: action.over * speed } : {}),
  }));

/** For what is played through without a touch the screen is kept awake so often (looks of the follower). */
const AWAKE_LOOKS = 400;

async function parts() {
  const [band, session, steps, awake] = await Promise.all([
    import('$lib/playing/band/band'),
    import('$lib/sound/band/session'),
    import('$lib/playing/band/speedSteps'),
    import('$lib/ui/kit/stayAwake'),
  ]);
  return { ...band, ...session, ...steps, ...awake };
}

interface Playing extends Awaited<ReturnType<typeof parts>> {
  readonly choices: BandChoices;
  readonly along: Along;
}

export class AlongPlayer {
  readonly #voice: Voice;
  #session: Session | undefined;
  #clock: Session['clock'] | undefined;
  #passage: Passage | undefined;
  #timer: ReturnType<typeof setInterval> | undefined;
  /** The hands are at the instrument, wherever it is played from. */
  #awake: StayAwake | undefined;
  #looks = 0;
  #plays = 0;
  /** When what is due in rounds that may still be heard, in places at the written tempo. */
  #due: readonly { readonly round: number; readonly due: readonly Due[] }[] = [];

  playing = $state(false);
  loop = $state(false);
  countIn = $state(true);
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();
  /** Quarter notes a minute at the beginning; as written where left out. */
  #tempo = $state<number | undefined>();
  /** The same as it is heard, once steps have changed it. */
  stepped = $state<number | undefined>();
  choices = $state.raw<BandChoices | undefined>();
  /** What is due now, by its number; told while it plays. */
  onheard: ((due: number | undefined) => void) | undefined;

  constructor(voice: Voice) {
    this.#voice = voice;
  }

  /** What it is heard by, for its volume. */
  get voice(): Voice {
    return this.#voice;
  }

  get tempo(): number | undefined {
    return this.#tempo;
  }
  set tempo(to: number | undefined) {
    this.#tempo = to;
    this.stepped = undefined;
    if (this.#passage !== undefined)
      this.#session?.setSpeed((to ?? this.#passage.tempo) / this.#passage.tempo);
  }

  /** What the player has chosen, once it is wanted. */
  async chosen(): Promise<BandChoices> {
    const { BandChoices } = await import('./bandChoices.svelte');
    if (this.choices === undefined) {
      this.choices = new BandChoices();
      this.choices.onchange = (change) => this.#changed(change);
    }
    return this.choices;
  }

  /** Plays a passage instead of what sounds. */
  async play(passage: Passage): Promise<void> {
    this.stop();
    const number = ++this.#plays;
    this.playing = true;
    const [opened, made] = await Promise.all([
      this.#voice.along(() => {
        if (number === this.#plays) this.#ended();
      }),
      Promise.all([parts(), this.chosen()]).catch(() => undefined),
    ]);
    if (number !== this.#plays) return;
    this.silence = opened.ok ? undefined : opened.error;
    if (!opened.ok || opened.value === undefined) return this.#ended();
    if (made === undefined) {
      this.silence =
        'The band could not be loaded. Check that you are online, and press Play again.';
      return this.stop();
    }
    const [own, choices] = made;
    const along = opened.value;
    this.#passage = passage;
    const counted = this.countIn ? 1 : 0;
    this.#session = new own.Session({
      ...{ along, referenceHz: passage.referenceHz, levels: choices.levels, drone: choices.drone },
      clock: this.#clock,
      speed: (this.#tempo ?? passage.tempo) / passage.tempo,
      round: (round, speed) =>
        this.#round({ ...own, choices, along }, round, round - counted, speed),
    });
    this.#clock = this.#session.clock;
    this.#awake = new own.StayAwake();
    this.#looks = 0;
    this.#timer = setInterval(() => this.#follow(), FOLLOW_MS);
  }

  /**
   * What the band plays to a passage once through, for a file: as it is heard, but without the click, in seconds at a
   * speed; `lead` is how long the count lasts before it. Nothing where nobody plays along.
   */
  async bandFor({ piece, part }: Once, speed: number, lead: number): Promise<readonly BandNote[]> {
    const { choices, levels } = await this.chosen();
    const { feel, transposed } = choices;
    if (feel === 'none') return [];
    const [{ bandOf }, { atLevels }] = await Promise.all([
      import('$lib/playing/band/band'),
      import('$lib/playing/band/levels'),
    ]);
    return atLevels(bandOf({ piece, part, feel, transposed }).notes, levels).map((note) => ({
      ...note,
      at: lead + note.at / speed,
      lasts: note.lasts / speed,
    }));
  }

  stop(): void {
    this.#ended();
    this.#voice.stop();
  }

  /**
   * What is played next: a count before the first round, then the passage as it is asked for by then.
   *
   * @param number among all that are played
   * @param round among those of the passage, from 0
   * @param before the speed until then
   */
  #round(
    { bandOf, countInOf, tempoAt, choices, along }: Playing,
    number: number,
    round: number,
    before: number,
  ): Round | undefined {
    const passage = this.#passage;
    if (passage === undefined || (round > 0 && !this.loop)) return undefined;
    const { stepBy: by, stepEvery: every } = choices.choices;
    const tempo = tempoAt(round, before * passage.tempo, { by, every });
    const speed = tempo / passage.tempo;
    const { notes, due, length, piece, part } = passage.once(speed);
    if (round < 0) {
      const counted = countInOf(piece, part[0]);
      return { length: counted.length, actions: [], band: () => counted.notes };
    }
    if (tempo !== before * passage.tempo) this.stepped = tempo;
    this.#due = [
      ...this.#due.slice(-2),
      { round: number, due: due.map((each) => ({ ...each, at: each.at * speed })) },
    ];
    return {
      length: length * speed,
      actions: placed(along.actionsOf(notes, passage.referenceHz), speed),
      band: () => {
        const { feel, transposed } = choices.choices;
        return bandOf({
          ...{ piece, part, round: this.loop, transposed },
          ...(feel === 'none' ? {} : { feel }),
        }).notes;
      },
      speed,
    };
  }

  #follow(): void {
    if (this.#looks++ % AWAKE_LOOKS === 0) this.#awake?.use();
    const heard = this.#session?.heard();
    if (heard === 'over') return this.stop();
    this.onheard?.(
      heard && dueAt(this.#due.find(({ round }) => round === heard.round)?.due ?? [], heard.at),
    );
  }

  #changed(change: Parameters<BandChoices['choose']>[0]): void {
    const { feel, transposed, sliders, muted, drone } = change;
    const session = this.#session;
    const choices = this.choices;
    if (session === undefined || choices === undefined) return;
    if (feel !== undefined || transposed !== undefined) session.changeBand();
    if (drone !== undefined) session.drone(choices.drone);
    if (sliders !== undefined || muted !== undefined) session.setLevels(choices.levels);
  }

  #ended(): void {
    this.#plays++;
    clearInterval(this.#timer);
    this.#session?.end();
    this.#awake?.release();
    this.#awake = undefined;
    this.#session = undefined;
    this.#passage = undefined;
    this.#due = [];
    this.playing = false;
    this.stepped = undefined;
    this.onheard?.(undefined);
  }
}
