import type { Grip } from '$lib/search/grip';
import type { Hold } from '$lib/search/hold';
import { engagedCode } from '$lib/setup/engagedText';

/** What makes two voicings in their ways the same: where the bar lies, what is engaged and picked. */
export const voicingKey = (
  { neck, fret, slant, engaged }: Omit<Hold, 'strings'>,
  grip: Grip,
): string => `${neck}|${fret}|${slant}|${engagedCode(engaged)}|${grip}`;
