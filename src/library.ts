/**
 * The engine as a library: setups read and checked, chords found on them, sounds named, pieces arranged.
 *
 * All of it is plain data in and plain data out. Strings, necks and frets are numbered as players number
 * them, from 1 (fret 0 is the open string); pitches are MIDI numbers, 60 is middle C. Whatever people write
 * is read by a `read…` function, which gives a {@link Result}: the value, or what is wrong with it and where.
 * It does not throw for that; what throws is a mistake in the calling program.
 *
 * What stands here is public, and nothing else is: its names follow semantic versions.
 *
 * @packageDocumentation
 */
import { arrange as arrangeProgression, type Arrangement } from '$lib/arrange/arrange';
import { withPasses } from '$lib/arrange/passes';
import type { ReadProgression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { slantsByDefault } from '$lib/search/nutIndex';
import type { Setup } from '$lib/setup/setup';
import { namedPitches, type NamedPitches } from '$lib/theory/namedPitches';
import type { NamingOptions } from '$lib/theory/names';
import type { Midi } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';

// setups
export { readSetup, readSetupText } from '$lib/setup/readSetup';
export { setupText } from '$lib/setup/writeSetup';
export { builtIn, BUILT_IN_IDS, type BuiltInId } from '$lib/setup/builtIns';
export type { Control, Drop, Engaged, Neck, Pull, Setup, SetupString } from '$lib/setup/setup';

// what is wrong with what people wrote
export type { Result, Fault } from '$lib/result';
export { faultText, type DocumentFault, type FaultCode } from '$lib/faults';

// where a chord lies, easiest first
export { answer } from '$lib/answers/answer';
export {
  readQuestion,
  type Question,
  type QuestionFault,
  type QuestionPart,
  type QuestionTexts,
} from '$lib/answers/question';
export { voicingText, type VoicingText, type ToneText } from '$lib/answers/voicingText';
export type { RankedVoicing, RankedVoicings, Searched } from '$lib/engine/rankedVoicings';
export type { Effort } from '$lib/effort/effort';
export type { Voicing } from '$lib/search/voicing';

// what sounds, by name
export { soundOf, type Sound } from '$lib/answers/sound';
export type { Hold } from '$lib/search/hold';
export type { ChordName, NamedTone, NamingOptions } from '$lib/theory/names';
export type { NamedPitches } from '$lib/theory/namedPitches';
export type { Chord } from '$lib/theory/chord';
export { readKey, type Key } from '$lib/theory/spelling';
export { readNotes, type Notes, type NotesFault } from '$lib/theory/readNotes';
export type { Midi, NoteName, Pitch } from '$lib/theory/pitch';

// pieces
export { readWishes, type WishFault } from '$lib/answers/readWishes';
export type { WishPart, WishTexts } from '$lib/answers/wishParts';
export type { Wishes } from '$lib/arrange/wishes';
export type { Piece } from '$lib/arrange/piece';
export type { Progression, ProgressionFault, ReadProgression } from '$lib/arrange/progression';
export type { Arrangement, ArrangedStep, ArrangedWay, Unplayable } from '$lib/arrange/arrange';

/**
 * Names pitches that sound together, in any order and as often as they come.
 *
 * @param pitches MIDI numbers
 * @param options the key that names are spelled in, and how many names are wanted
 */
export const nameOf = (pitches: readonly Midi[], options: NamingOptions = {}): NamedPitches =>
  namedPitches(pitches, options);

/**
 * Reads a piece: chords measure by measure, such as `C | Am7 | Dm7 G7 | C`, with lines for its title, key,
 * tempo and metre, repeats, endings and signs. What cannot be read is told in `faults`; what is around
 * it is taken.
 *
 * @param key that degrees (`ii`, `V7`, `4`) count from, where the text does not say it
 */
export const readPiece = (text: string, key?: Key): ReadProgression => readProgression(text, key);

/**
 * The best ways of playing a piece on a setup, exact, best first.
 *
 * @param piece as it was read
 * @param wishes as `readWishes` gives them; none where left out
 * @param most ways, at least 1
 */
export function arrange(
  setup: Setup,
  { progression, piece }: Pick<ReadProgression, 'progression' | 'piece'>,
  wishes: Wishes = noWishes(slantsByDefault(setup)),
  most: number = 1,
): Arrangement {
  if (!Number.isInteger(most) || most < 1)
    throw new RangeError(`most: ${most}; expected is a whole number from 1`);
  return arrangeProgression(setup, progression, withPasses(wishes, progression, piece), most);
}
