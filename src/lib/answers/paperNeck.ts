/** Hands and feet on a setup as a small neck for paper, by the engine: what sounds, and as what. */
import { prettyPitch } from '$lib/theory/display';
import { spelled, toneAt, type SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { movesOf, sounding } from '$lib/setup/sounding';
import type { Voicing } from '$lib/search/voicing';
import type { PaperString } from '$lib/formats/book';
import { fretText, toneText } from './voicingText';

/** Hands and feet, and what is told of them. */
export interface Shown {
  readonly neck: number;
  readonly fret: number;
  readonly engaged: Choice;
  /** By string of the grip, its fret where the bar is slanted. */
  readonly frets?: ReadonlyMap<number, number>;
  /** The best grip first. */
  readonly grips: readonly (readonly number[])[];
  readonly tones: readonly SpelledTone[];
}

/** Every string of the neck as it sounds there. */
export function stringsOf(setup: Setup, shown: Shown): PaperString[] {
  const { neck, fret, engaged, frets, grips, tones } = shown;
  const [grip = []] = grips;
  const more = new Set(grips.flat());
  const moves = movesOf(setup, neck, engaged);
  return sounding(setup, neck, engaged, fret).map((straight, at): PaperString => {
    const string = at + 1;
    const own = frets?.get(string) ?? fret;
    const pitch = straight + own - fret;
    const part = grip.includes(string) ? 'grip' : more.has(string) ? 'more' : 'none';
    return {
      fret: own,
      pitch,
      moved: moves[at] ?? 0,
      note: prettyPitch(spelled(tones, pitch)),
      tone: part === 'none' ? '' : toneText(toneAt(tones, pitch)?.degree ?? ''),
      part,
    };
  });
}

/** `3-4-5`, one a grip. */
export const gripTexts = (grips: readonly (readonly number[])[]): string[] =>
  grips.map((strings) => strings.join('-'));

/** The name of a neck where there are several; else empty. */
export const neckName = (setup: Setup, neck: number): string =>
  setup.necks.length === 1 ? '' : (setup.necks[neck - 1]?.name ?? String(neck));

/** `Fret 3`, `At the nut`. */
export const fretWords = (hands: Pick<Voicing, 'fret' | 'slant'>): string =>
  hands.fret === 0 && hands.slant === 0 ? 'At the nut' : `Fret ${fretText(hands)}`;

/** `fret 3`; where there are several necks `C6, fret 3`. */
export function lies(setup: Setup, hands: Pick<Voicing, 'neck' | 'fret' | 'slant'>): string {
  const words = fretWords(hands);
  const own = words.slice(0, 1).toLowerCase() + words.slice(1);
  const on = neckName(setup, hands.neck);
  return on === '' ? own : `${on}, ${own}`;
}
