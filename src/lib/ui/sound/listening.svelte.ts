/** How a player likes to listen: chosen anywhere, remembered on this device, the same in every place. */
import type { Chroma } from '$lib/theory/pitch';
import { INTONATIONS, type Intonation } from '$lib/tuning/heard';
import { RIG, TIMBRES, type Expression, type Timbre } from '$lib/rendering/actions';
import {
  BEND_SECONDS,
  MANNERS,
  notesOf,
  struckAs,
  withBass,
  type Manner,
  type PickedPitch,
  type ScheduledNote,
} from '$lib/playing/schedule';
import { MODERATE, createVoice, type Voice } from '$lib/sound/voice';
import { storeSound, storedSound } from '$lib/storage/sound';

export type BendSpeed = keyof typeof BEND_SECONDS;
export const BEND_SPEEDS = Object.keys(BEND_SECONDS) as readonly BendSpeed[];

export interface Choices {
  /** 0 … 1, as the slider stands. */
  readonly level: number;
  readonly timbre: Timbre;
  readonly manner: Manner;
  readonly intonation: Intonation;
  readonly bend: BendSpeed;
  /** The chord's root as a soft bass. */
  readonly bass: boolean;
  readonly amplifier: boolean;
  readonly vibrato: boolean;
  readonly harmonics: boolean;
  readonly swell: boolean;
  /** The caution about loudness has been read. */
  readonly cautioned: boolean;
}

export const USUAL: Choices = {
  level: MODERATE,
  timbre: 'string',
  manner: 'rolled',
  intonation: 'setup',
  bend: 'usual',
  bass: false,
  amplifier: false,
  vibrato: false,
  harmonics: false,
  swell: false,
  cautioned: false,
};

/** What may be chosen where it is a word. */
const WORDS = {
  timbre: TIMBRES,
  manner: MANNERS,
  intonation: INTONATIONS,
  bend: BEND_SPEEDS,
} as const;

/** What was saved, as far as it is something that can be chosen. */
export function choicesFrom(saved: Readonly<Record<string, unknown>>): Choices {
  const valid = Object.entries(saved).filter(([part, value]) => {
    if (!Object.hasOwn(USUAL, part)) return false;
    if (part in WORDS)
      return (WORDS[part as keyof typeof WORDS] as readonly unknown[]).includes(value);
    if (part === 'level') return typeof value === 'number' && value >= 0 && value <= 1;
    return typeof value === 'boolean';
  });
  return { ...USUAL, ...(Object.fromEntries(valid) as Partial<Choices>) };
}

export class Listening {
  readonly #voice: Voice;
  choices = $state.raw<Choices>(USUAL);

  constructor(voice: Voice) {
    this.#voice = voice;
    this.#fit();
  }

  /** Takes over what was chosen on an earlier visit. Call it once the page is there. */
  recall(): void {
    this.choices = choicesFrom(storedSound());
    this.#fit();
  }

  choose(change: Partial<Choices>): void {
    this.choices = { ...this.choices, ...change };
    storeSound({ ...this.choices });
    this.#fit();
  }

  #fit(): void {
    const { level, timbre, amplifier } = this.choices;
    this.#voice.setLevel(level);
    this.#voice.setRig({ ...RIG, timbre, amplifier });
  }

  /** Seconds that a control takes. */
  get bendSeconds(): number {
    return BEND_SECONDS[this.choices.bend];
  }

  expression(referenceHz: number): Expression {
    const { swell, vibrato, timbre, amplifier } = this.choices;
    return { referenceHz, swell, vibrato, rig: { ...RIG, timbre, amplifier } };
  }

  /** A grip as it is to be played. */
  notes(pitches: readonly PickedPitch[], root?: Chroma): ScheduledNote[] {
    const { manner, bass } = this.choices;
    const all = bass && root !== undefined ? withBass(pitches, root) : pitches;
    return this.struckAsChosen(notesOf(all, manner));
  }

  /** Any schedule, struck as is chosen: the bass softly, strings as palm harmonics. */
  struckAsChosen(notes: readonly ScheduledNote[]): ScheduledNote[] {
    return struckAs(notes, { harmonics: this.choices.harmonics });
  }
}

/** A voice for a place without choices of its own: as loud, and with the sound, that was chosen last. */
export function voiceAsChosen(): Voice {
  const voice = createVoice();
  new Listening(voice).recall();
  return voice;
}
