/** Plays a run or a ladder in time, with drums and a drone, and knows which step is heard. */
import type { Piece } from '$lib/arrange/piece';
import type { TuneStep } from '$lib/arrange/tune';
import { lengthOf } from '$lib/playing/schedule';
import { heardTune } from '$lib/playing/tuneNotes';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';
import { AlongPlayer, type Passage } from '$lib/ui/band/alongPlayer.svelte';

const BEATS = 4;

/** Quarter notes a minute at which steps were laid out. */
export function tempoOf([first]: readonly TuneStep[]): number {
  return first === undefined ? 60 : (60 * first.onset.lasts) / first.onset.lastsSeconds;
}

/** Measures without chords, as long as the steps: what the drums follow. */
function measuresFor(beats: number, tempo: number): Piece {
  const whole = Math.ceil(beats / BEATS - 1e-6);
  const measures = Array.from({ length: whole }, (_, at) => {
    const left = beats - at * BEATS;
    return { chords: [], notes: [], ...(left < BEATS - 1e-6 && at > 0 ? { lasts: left } : {}) };
  });
  return { tempo, measures };
}

/** Steps as what is played along with. */
export function passageOf(setup: Setup, steps: readonly TuneStep[]): Passage {
  const tempo = tempoOf(steps);
  const last = steps.at(-1)?.onset;
  const beats = last === undefined ? 0 : last.at + last.lasts;
  const piece = measuresFor(beats, tempo);
  return {
    referenceHz: setup.referenceHz,
    tempo,
    once(speed) {
      const notes = heardTune(
        setup,
        steps.map((step) => ({
          ...step,
          onset: {
            ...step.onset,
            seconds: step.onset.seconds / speed,
            lastsSeconds: step.onset.lastsSeconds / speed,
          },
        })),
      );
      return {
        notes,
        due: steps.map(({ onset }, index) => ({ index, at: onset.seconds / speed })),
        length: last === undefined ? lengthOf(notes) : (last.seconds + last.lastsSeconds) / speed,
        piece,
        part: [0, piece.measures.length],
      };
    },
  };
}

export class StepsPlayer {
  readonly #voice: Voice;
  /** What plays in time. */
  readonly along: AlongPlayer;
  /** The step that is heard, by its number among those that are played. */
  index = $state<number | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
    this.along = new AlongPlayer(voice);
    // a run is begun at once where nobody asks to be counted in
    this.along.countIn = false;
    this.along.onheard = (due) => (this.index = due);
  }

  get playing(): boolean {
    return this.along.playing;
  }
  /** Why there is no sound, as a sentence. */
  get silence(): string | undefined {
    return this.along.silence;
  }

  /** Plays, or stops what plays. */
  async toggle(setup: Setup, steps: readonly TuneStep[]): Promise<void> {
    if (this.playing) return this.stop();
    if (steps.length === 0) return;
    await this.along.play(passageOf(setup, steps));
  }

  stop(): void {
    this.along.stop();
  }

  dispose(): void {
    this.stop();
    this.#voice.dispose();
  }
}
