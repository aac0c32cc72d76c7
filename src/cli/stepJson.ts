/** A step of a run, a ladder or a passage as JSON has it. */
import { pitchText } from '$lib/theory/pitch';
import { spelled } from '$lib/theory/toneNames';
import { fretsAheadOf } from '$lib/search/hold';
import type { TuneStep } from '$lib/arrange/tune';

/** Pitches are MIDI numbers in the order of the strings; `reached` says how each is come to. */
export const stepJson = ({ hold, way, stays, strings, tones, effort, move }: TuneStep) => {
  const ahead = fretsAheadOf(hold);
  return {
    voicing: {
      neck: hold.neck,
      fret: hold.fret,
      slant: hold.slant,
      strings: hold.strings,
      frets: hold.strings.map((_, at) => hold.fret + (ahead?.[at] ?? 0)),
      notes: hold.pitches.map((midi) => pitchText(spelled(tones, midi))),
      pitches: hold.pitches,
    },
    way,
    stays,
    reached: strings.map(({ reached }) => reached),
    effort,
    move,
  };
};
