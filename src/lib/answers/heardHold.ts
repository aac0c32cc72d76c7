/** What of a hold is heard: its strings against their targets, and what the hand at the bar did. */
import { hzOf, type Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { fretsAheadOf, pitchesOf, type Hold } from '$lib/search/hold';
import { heardPitches } from '$lib/tuning/heard';
import { barOf, type BarOff } from '$lib/hearing/bar';
import { hearGrip, type HeardGrip } from '$lib/hearing/hear';

/** A string of a hold as it should sound. */
export interface WantedString {
  /** From 1. */
  readonly string: number;
  /** The note, without its target's cents. */
  readonly midi: Midi;
  /** Its target. */
  readonly hz: number;
  /** From the bar to the bridge, in millimetres. */
  readonly lengthMm: number;
}

/** What is heard of a hold. */
export interface HeardHold extends HeardGrip {
  readonly wanted: readonly WantedString[];
  /** Nothing at the nut, where no bar lies, and where nothing certain is heard. */
  readonly bar?: BarOff & { readonly strings: readonly number[] };
}

/** The strings of a hold as they should sound, by the setup's own targets. */
export function wantedStrings(setup: Setup, hold: Hold): WantedString[] {
  const midis = pitchesOf(setup, hold);
  const ahead = fretsAheadOf(hold);
  return heardPitches(setup, hold).map(({ string, midi }, stop): WantedString => ({
    string,
    midi: midis[stop] ?? Math.round(midi),
    hz: hzOf(midi, setup.referenceHz),
    lengthMm: setup.scaleLengthMm * 2 ** (-(hold.fret + (ahead?.[stop] ?? 0)) / 12),
  }));
}

/** Where the bar lies by what is heard. */
export function heardBar(
  hold: Hold,
  wanted: readonly WantedString[],
  { strings }: HeardGrip,
): HeardHold['bar'] {
  if (hold.fret === 0) return undefined;
  const known = wanted.flatMap(({ string, lengthMm }, at) => {
    const { certain = false, cents } = strings[at] ?? {};
    return certain && cents !== undefined ? [{ string, lengthMm, cents }] : [];
  });
  const bar = barOf(known);
  return bar && { ...bar, strings: known.map(({ string }) => string) };
}

/** What of a hold is heard in a sound that begins with the stroke. */
export function heardHold(
  setup: Setup,
  hold: Hold,
  { samples, sampleRate }: { readonly samples: Float32Array; readonly sampleRate: number },
): HeardHold {
  const wanted = wantedStrings(setup, hold);
  const heard = hearGrip(
    samples,
    sampleRate,
    wanted.map(({ hz }) => hz),
    setup.referenceHz,
  );
  const bar = heardBar(hold, wanted, heard);
  return { ...heard, wanted, ...(bar === undefined ? {} : { bar }) };
}
