/** What keeps a grip from being heard: nothing, too soft, too loud, or what the loudspeaker plays. */
import { AUDIBLE, type Loudness } from './stream';

/** What disturbs; the page says it in a sentence. */
export type HearingTrouble = 'silent' | 'soft' | 'loud' | 'speaker';

/** So great a part of a tenth of a second at full scale is too loud. */
const MOST_CLIPPED = 0.002;
/** After so long without sound, in seconds, the player is told. */
const SILENT_S = 6;
/** A microphone that is alive is never as quiet as this: it gives nothing at all. */
const DEAD = 1e-6;
/** What disturbed is told for so long, in seconds, that it can be read. */
const TOLD_S = 3;

export class TroubleWatch {
  #heardAt = 0;
  #told: { readonly what: HearingTrouble; readonly at: number } | undefined;

  /** What is told at a time in seconds; `fromSpeaker` where the own playing is heard. */
  look(at: number, { level, clipped }: Loudness, fromSpeaker = false): HearingTrouble | undefined {
    if (level > AUDIBLE) this.#heardAt = at;
    const now = ((): HearingTrouble | undefined => {
      if (clipped > MOST_CLIPPED) return 'loud';
      if (fromSpeaker) return 'speaker';
      if (at - this.#heardAt < SILENT_S) return undefined;
      return level < DEAD ? 'silent' : 'soft';
    })();
    if (now !== undefined) this.#told = { what: now, at };
    else if (this.#told !== undefined) {
      const { what, at: since } = this.#told;
      // sound has come back: what was said of silence holds no longer
      const over = what === 'silent' || what === 'soft';
      if (over || at - since > TOLD_S) this.#told = undefined;
    }
    return this.#told?.what;
  }
}
