/** What is heard, in words. */
import type { BarOff } from '$lib/hearing/bar';
import type { HearingTrouble } from '$lib/hearing/trouble';
import { lengthText, type Units } from '$lib/strings/units';

/** `+3.2`, `−0.4`. */
export const centsWords = (cents: number): string => {
  const size = Math.abs(cents).toFixed(1);
  return `${cents < 0 && size !== '0.0' ? '−' : '+'}${size}`;
};

/** Nearer than this to its fret or to straight, in millimetres, nobody puts a bar. */
const ON_MM = 0.05;

/** Where the bar lies and how it is turned, a few words each; no turn is told of one string. */
export function barWords(
  { mm, turnMm, strings }: BarOff & { readonly strings: readonly number[] },
  units: Units = 'metric',
): {
  readonly lies: string;
  readonly turned: string;
} {
  const far = (length: number): string => lengthText(Math.abs(length), units);
  return {
    lies: Math.abs(mm) < ON_MM ? 'on its fret' : `${far(mm)} ${mm > 0 ? 'sharp' : 'flat'}`,
    turned:
      strings.length < 2
        ? ''
        : Math.abs(turnMm) < ON_MM
          ? 'straight'
          : `far end ${far(turnMm)} ${turnMm > 0 ? 'ahead' : 'behind'}`,
  };
}

/** What disturbs, as a sentence. */
export const TROUBLE_WORDS: Readonly<Record<HearingTrouble, string>> = {
  silent: 'The microphone gives no sound at all. Is it switched off, or another one chosen?',
  soft: 'Too soft to be heard. Is this the right microphone, is it turned up, is it near the amplifier?',
  loud: 'Too loud: the microphone is at its end. Turn it down, or move it away.',
  speaker:
    'The microphone hears what this page plays, and takes it for your strings. Use headphones, or turn the volume down.',
};

/** `12 ms late`, `in time`: within two milliseconds nobody hears a difference. */
export function lateWords(ms: number): string {
  const size = Math.abs(ms).toFixed(0);
  return Math.abs(ms) < 2.5 ? 'in time' : `${size} ms ${ms > 0 ? 'late' : 'early'}`;
}
