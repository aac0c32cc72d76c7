import { moveWords } from '$lib/setup/moveWords';
import type { NeckPull, NeckString } from './neckView';

const spokenPull = (pull: NeckPull): string =>
  `${moveWords(pull.semitones)}${pull.half ? ', half-stop' : ''}`;

/** A string in words: "String 5, B 3, raised 2 semitones, sounds third, E 4". */
export function spokenString(string: NeckString): string {
  return [
    `String ${string.number}`,
    string.spokenOpen,
    ...(string.pull ? [spokenPull(string.pull)] : []),
    ...(string.tone ? [`sounds ${string.tone.spoken}`] : []),
  ].join(', ');
}
