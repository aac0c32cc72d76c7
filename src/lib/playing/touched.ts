/** A grip touched to give a harmonic, as it is heard. Pure. */
import type { Harmonic } from '$lib/search/harmonics';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import { notesOf, type Manner, type ScheduledNote } from './schedule';

/** The grip of a hold in a manner, every string as a harmonic, as the setup is tuned. */
export function touchedNotes(
  setup: Setup,
  hold: Hold,
  { semitones }: Harmonic,
  manner: Manner = 'rolled',
): ScheduledNote[] {
  // a note that is struck as a harmonic sounds an octave above its pitch
  const below = semitones - 12;
  return notesOf(withFalls(setup, hold.neck, heardPitches(setup, hold)), manner).map((note) => ({
    ...note,
    midi: note.midi + below,
    harmonic: true,
  }));
}
