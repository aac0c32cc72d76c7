/**
 * The octaves of open notes that are written without them, in a chart or a field: from a tuning that is known, from the
 * gauges, else from their order. Strings come string 1 first.
 */
import { BUILT_IN_IDS, builtIn } from './builtIns';
import {
  chromaOf,
  chromaOfName,
  parsePitch,
  pitchNamed,
  pitchOf,
  type Midi,
  type NoteName,
  type Pitch,
} from '$lib/theory/pitch';

export interface OpenNote {
  readonly name: NoteName;
  readonly octave: number | undefined;
  /** Inches. */
  readonly gauge: number | undefined;
}

export interface KnownTuning {
  readonly name: string;
  readonly pitches: readonly Pitch[];
}

/**
 * Tunings of the trade that no built-in setup has, string 1 first (common practice, from memory): only
 * their octaves are taken from here, never a note.
 */
const OTHERS: readonly (readonly [string, string])[] = [
  ['E9', 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2 G#2 E2'],
  ['C6', 'D4 E4 C4 A3 G3 E3 C3 A2 F2 C2'],
  ['C6', 'G4 E4 C4 A3 G3 E3 C3 A2 F2 C2 A1 F1'],
  ['E13', 'G#4 E4 C#4 B3 G#3 F#3 D3 E3'],
  ['C13', 'E4 C4 A3 G3 E3 C3 Bb2 C2'],
  ['B11', 'E4 C#4 A3 F#3 D#3 B2'],
  ['E7', 'E4 B3 G#3 E3 D3 B2'],
  ['E', 'E4 B3 G#3 E3 B2 E2'],
  ['D', 'D4 A3 F#3 D3 A2 D2'],
  ['A', 'E4 C#4 A3 E3 A2 E2'],
];

let known: readonly KnownTuning[] | undefined;

/** Every tuning whose octaves are known. */
export function knownTunings(): readonly KnownTuning[] {
  known ??= [
    ...BUILT_IN_IDS.flatMap((id) =>
      builtIn(id).necks.map(({ name, strings }) => ({
        name,
        pitches: strings.map(({ open }) => open),
      })),
    ),
    ...OTHERS.map(([name, text]) => ({
      name,
      pitches: text.split(' ').flatMap((each) => parsePitch(each) ?? []),
    })),
  ];
  return known;
}

/** The pitch of a name nearest to a sounding pitch; of two as near, the lower. */
const nearest = (name: NoteName, midi: number): Midi => {
  const up = chromaOf(chromaOfName(name) - Math.round(midi));
  return Math.round(midi) + (up >= 6 ? up - 12 : up);
};

/**
 * A gauge's usual pitch: a .011 is strung to G♯4 (68), and at like tension frequency goes as 1/diameter
 * (Mersenne), twelve semitones for twice the wire.
 */
const pitchOfGauge = (inches: number): number => 68 - 12 * Math.log2(inches / 0.011);

/** How octaves were found, for the sentence that tells it. */
export type Ground = 'written' | 'tuning' | 'gauges' | 'order';

/** The likeness of notes to a known tuning: how many of the strings have its note. */
function likeness(notes: readonly OpenNote[], { pitches }: KnownTuning): number {
  return notes.filter(({ name }, index) => {
    const pitch = pitches[index];
    return pitch !== undefined && chromaOfName(pitch) === chromaOfName(name);
  }).length;
}

/** The known tuning that most strings agree with, if most do. */
export function likeliestTuning(
  notes: readonly OpenNote[],
): { tuning: KnownTuning; alike: number } | undefined {
  let best: { tuning: KnownTuning; alike: number; off: number } | undefined;
  for (const tuning of knownTunings()) {
    const alike = likeness(notes, tuning);
    const off = Math.abs(tuning.pitches.length - notes.length);
    if (best === undefined || alike > best.alike || (alike === best.alike && off < best.off))
      best = { tuning, alike, off };
  }
  return best !== undefined && best.alike >= Math.max(3, 0.7 * notes.length) ? best : undefined;
}

/** Where a first string is that nothing else tells of: not above G4, or E4 where they are few. */
const topOf = (count: number): Midi => (count > 6 ? 67 : 64);

/** Semitones that a gauge may be from its usual pitch; an octave off, it is strung for another one. */
const GAUGE_MAY_BE_OFF = 9;

/** Does a string lie where a known tuning has one, as far as its gauge tells? */
const fits = (gauge: number | undefined, midi: Midi, isAlike: boolean): boolean =>
  gauge === undefined || (isAlike && Math.abs(pitchOfGauge(gauge) - midi) <= GAUGE_MAY_BE_OFF);

/** The pitches of open notes, string 1 first, and what their octaves were taken from. */
export function withOctaves(notes: readonly OpenNote[]): { pitches: Pitch[]; ground: Ground } {
  const found = likeliestTuning(notes)?.tuning;
  // octaves that are written otherwise than a tuning has them say that it is another
  const isOther = notes.some(
    ({ name, octave }, index) =>
      octave !== undefined && pitchOf(name, octave).midi !== found?.pitches[index]?.midi,
  );
  const like = isOther ? undefined : found;
  let ground: Ground = 'written';
  const pitches: Pitch[] = [];
  for (const [index, { name, octave, gauge }] of notes.entries()) {
    const before = pitches.at(-1)?.midi;
    const after = notes.slice(index + 1).find((each) => each.octave !== undefined);
    const knownPitch = like?.pitches[index];
    const isAlike = knownPitch && chromaOfName(knownPitch) === chromaOfName(name);
    let midi: Midi;
    if (octave !== undefined) midi = pitchOf(name, octave).midi;
    else if (knownPitch !== undefined && fits(gauge, knownPitch.midi, isAlike === true)) {
      midi = nearest(name, knownPitch.midi);
      if (ground === 'written') ground = 'tuning';
    } else if (gauge !== undefined) {
      midi = nearest(name, pitchOfGauge(gauge));
      if (ground === 'written') ground = 'gauges';
    } else {
      const top = before === undefined ? firstTop(notes, index, after) : before - 1;
      midi = top - chromaOf(top - chromaOfName(name));
      ground = 'order';
    }
    pitches.push(pitchNamed(name, midi));
  }
  return { pitches, ground };
}

/** Where string 1 lies when a later string has an octave: every string between lies below the one before. */
function firstTop(notes: readonly OpenNote[], index: number, after: OpenNote | undefined): Midi {
  if (after?.octave === undefined) return topOf(notes.length);
  let { midi } = pitchOf(after.name, after.octave);
  for (let each = notes.indexOf(after) - 1; each >= index; each--) {
    const name = notes[each]?.name;
    if (name !== undefined) midi += 1 + chromaOf(chromaOfName(name) - midi - 1);
  }
  return midi;
}

/** How far notes seem to come string 1 last: known tunings the other way round, else rising written pitches. */
export function seemsReversed(notes: readonly OpenNote[]): boolean {
  const turned = [...notes].reverse();
  const here = likeliestTuning(notes)?.alike ?? 0;
  const there = likeliestTuning(turned)?.alike ?? 0;
  if (here !== there) return there > here;
  const gauges = notes.flatMap(({ gauge }) => gauge ?? []);
  const written = notes.flatMap(({ name, octave }) =>
    octave === undefined ? [] : pitchOf(name, octave).midi,
  );
  const [from, to] = [written[0], written.at(-1)];
  if (from !== undefined && to !== undefined && written.length >= 2) return from < to;
  const [thin, thick] = [gauges[0], gauges.at(-1)];
  return thin !== undefined && thick !== undefined && gauges.length >= 2 && thin > thick;
}
