/** Spelling what a voicing sounds by the chord it belongs to. */
import type { ToneRole } from './duties';
import {
  chromaOf,
  noteName,
  pitchNamed,
  type Chroma,
  type Midi,
  type NoteName,
  type Pitch,
} from './pitch';

/** A tone of a chord or of a name: enough to spell and to colour it. */
export interface SpelledTone {
  readonly degree: string;
  readonly chroma: Chroma;
  readonly name: NoteName;
  readonly role: ToneRole;
}

const PLAIN = ['C', 'C', 'D', 'E', 'E', 'F', 'F', 'G', 'A', 'A', 'B', 'B'] as const;
const ALTERED = [0, 1, 0, -1, 0, 0, 1, 0, -1, 0, -1, 0] as const;

/** The spelling of a pitch class that nothing around it decides: C♯, E♭, F♯, A♭, B♭. */
export const plainName = (chroma: Chroma): NoteName =>
  noteName(PLAIN[chromaOf(chroma)] ?? 'C', ALTERED[chromaOf(chroma)] ?? 0);

/** The tone that a pitch is; `undefined` where it is foreign. */
export const toneAt = <T extends SpelledTone>(tones: readonly T[], midi: Midi): T | undefined =>
  tones.find((tone) => tone.chroma === chromaOf(midi));

/** A sounding pitch as the chord spells it; `otherwise` spells what is foreign to it. */
export function spelled(
  tones: readonly SpelledTone[],
  midi: Midi,
  otherwise: (chroma: Chroma) => NoteName = plainName,
): Pitch {
  return pitchNamed(toneAt(tones, midi)?.name ?? otherwise(chromaOf(midi)), midi);
}
