/**
 * Positions one after the other, as they are heard: strings of both that ring on are bent by their controls or
 * taken along by the bar, the others are struck. Pure.
 */
import { reachedFrom } from '$lib/effort/reaching';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import { handedStrings } from '$lib/setup/sounding';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import { pitchesOf } from '$lib/search/hold';
import { BEND_SECONDS, slideSeconds, type Glide, type ScheduledNote } from './schedule';

/** Seconds of silence before a string is struck again. */
const BLOCKED = 0.03;
/** Seconds that the last of them rings beyond the time of one. */
const RINGS_AFTER = 1.5;

interface Ringing extends ScheduledNote {
  readonly glides: Glide[];
}

/** Positions, each lasting `seconds` (above 0), as the setup is tuned. */
export function inTurn(setup: Setup, holds: readonly Hold[], seconds: number): ScheduledNote[] {
  const notes: ScheduledNote[] = [];
  let ringing = new Map<number, Ringing>();
  const end = (note: Ringing, at: number): void => {
    const { glides, ...rest } = note;
    notes.push({
      ...rest,
      duration: Math.max(BLOCKED, at - note.at),
      ...(glides.length === 0 ? {} : { glides }),
    });
  };
  holds.forEach((hold, index) => {
    const at = index * seconds;
    const last = holds[index - 1];
    const sounding = (one: Hold) => ({ ...one, pitches: pitchesOf(setup, one) });
    const wanted = { joined: true, melody: 'rests', between: false, seconds } as const;
    const handed = last ? handedStrings(setup, hold.neck, last.engaged, hold.engaged) : 0;
    const reached = reachedFrom(last && sounding(last), sounding(hold), wanted, handed);
    const next = new Map<number, Ringing>();
    for (const pitch of withFalls(setup, hold.neck, heardPitches(setup, hold))) {
      const how = reached[hold.strings.indexOf(pitch.string)];
      const rings = how === 'picked' ? undefined : ringing.get(pitch.string);
      if (rings === undefined) {
        next.set(pitch.string, { ...pitch, at, duration: seconds, glides: [] });
        continue;
      }
      next.set(pitch.string, rings);
      if (how === 'rings') continue;
      const by = how === 'slide' ? 'bar' : 'pull';
      const over =
        by === 'bar' ? slideSeconds(Math.abs(hold.fret - (last?.fret ?? 0))) : BEND_SECONDS.usual;
      rings.glides.push({ at: Math.max(rings.at, at - over), over, to: pitch.midi, by });
    }
    for (const [string, note] of ringing)
      if (next.get(string) !== note) end(note, next.has(string) ? at - BLOCKED : at);
    ringing = next;
  });
  for (const note of ringing.values()) end(note, holds.length * seconds + RINGS_AFTER);
  return notes.sort((a, b) => a.at - b.at);
}
