/**
 * The whole instrument on one sheet: rows are what the legs can hold, columns frets, and every cell has
 * the best name of what sounds there. The bar transposes everything, so a row is searched once, at the
 * nut, and named twelve times.
 *
 * A row counts only where no control of it is idle on the grip (model of a way): what sounds without
 * a control too is found in the row without it.
 */
import { allowedSets } from '$lib/theory/chord';
import { transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, type Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { openMidi, type Setup } from '$lib/setup/setup';
import { combinationsOn, type NeckCombinations } from '$lib/search/combinations';
import type { WantedNote } from '$lib/search/find';
import { AtlasNames, nameDistance, type AtlasName } from './atlasNames';
import { leaving } from './answer';
import { feetEffort } from './feet';
import { pickingTerms } from './picking';
import type { Question } from './question';

/** A place where the wanted chord lies, on the easiest grip that gives it there. */
export interface WantedPlace {
  readonly fret: number;
  readonly strings: readonly number[];
}

export interface AtlasRow {
  readonly engaged: Choice;
  /** The grip that the names are of. */
  readonly strings: readonly number[];
  /** By fret modulo 12: a place in the atlas's `names`. */
  readonly names: readonly number[];
  /** Ascending by fret. */
  readonly wanted: readonly WantedPlace[];
}

export interface Atlas {
  readonly neck: number;
  /** The last fret. */
  readonly frets: number;
  readonly names: readonly AtlasName[];
  /** The name of the wanted chord itself. */
  readonly wanted: AtlasName;
  /** Easiest for the legs first. */
  readonly rows: readonly AtlasRow[];
}

/** A grip to look at, easiest for the picking hand first. */
interface Grip {
  /** String s (from 0) in bit s. */
  readonly bits: number;
  readonly strings: readonly number[];
  readonly effort: number;
}

const gripOf = (setup: Setup, neck: number, bits: number): Grip => {
  const of = setup.necks[neck - 1];
  if (of === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
  const strings = of.strings.flatMap((_, s) => (bits & (1 << s) ? [s + 1] : []));
  const effort = pickingTerms(of, strings).reduce((sum, { value }) => sum + value, 0);
  return { bits, strings, effort };
};

/** All grips that the question allows, or the chosen one. */
function gripsFor(
  setup: Setup,
  neck: number,
  { sizes, strings }: Question,
  chosen: readonly number[] | undefined,
): Grip[] {
  const bitsOf = (some: readonly number[]): number =>
    some.reduce((bits, string) => bits | (1 << (string - 1)), 0);
  if (chosen !== undefined) return [gripOf(setup, neck, bitsOf(chosen))];
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  const usable = strings === undefined ? -1 : bitsOf(strings);
  const grips: Grip[] = [];
  for (let bits = 1; bits < 1 << count; bits++) {
    if ((bits & ~usable) !== 0) continue;
    let size = 0;
    for (let rest = bits; rest !== 0; rest &= rest - 1) size++;
    if (size >= sizes[0] && size <= sizes[1]) grips.push(gripOf(setup, neck, bits));
  }
  // a stable sort: equal efforts stay in the order of their strings
  return grips.sort((a, b) => a.effort - b.effort);
}

/** For each control that could be let go: the strings on which that would be heard. */
function heardWithout(on: NeckCombinations, combination: number): number[] {
  return (on.released[combination] ?? []).map((rest) => {
    let bits = 0;
    for (let s = 0; s < on.strings; s++)
      if (on.moves[combination * on.strings + s] !== on.moves[rest * on.strings + s])
        bits |= 1 << s;
    return bits;
  });
}

/** The frets, modulo 12, at which each set of pitch classes at the nut is the wanted chord: a bit a fret. */
function wantedFrets({ chord, match }: Question): Uint16Array {
  const frets = new Uint16Array(4096);
  for (const { set } of allowedSets(chord, match))
    for (let fret = 0; fret < 12; fret++) {
      const atNut: PcSet = transpose(set, -fret);
      frets[atNut] = (frets[atNut] ?? 0) | (1 << fret);
    }
  return frets;
}

const isNote = (pitch: Midi, wanted: WantedNote): boolean =>
  'midi' in wanted ? pitch === wanted.midi : chromaOf(pitch) === wanted.chroma;

/** What a grip sounds with the bar at the nut. */
interface GripSound {
  readonly set: PcSet;
  readonly low: Midi;
  readonly high: Midi;
}

function soundOn(pitches: readonly Midi[], { strings }: Grip): GripSound {
  let set = 0;
  let low = Infinity;
  let high = -Infinity;
  for (const string of strings) {
    const pitch = pitches[string - 1] ?? 0;
    set |= 1 << (pitch % 12);
    if (pitch < low) low = pitch;
    if (pitch > high) high = pitch;
  }
  return { set, low, high };
}

/** Do the lowest and highest note fit the question at a fret? */
function outerFits(question: Question, { low, high }: GripSound, fret: number): boolean {
  const { chord, bass, top } = question;
  return (
    (chord.bass === undefined || chromaOf(low + fret) === chromaOfName(chord.bass)) &&
    (bass === undefined || isNote(low + fret, bass)) &&
    (top === undefined || isNote(high + fret, top))
  );
}

/**
 * The grip whose name a row gets: fewest tones left out or added, then the easiest for the hand, then
 * the root lowest. Grips are offered easiest first, so most of them need not be named at all.
 */
class Best {
  #distance = Infinity;
  grip: Grip | undefined;
  sound: GripSound | undefined;

  offer(grip: Grip, sound: GripSound): void {
    const isHarder = this.grip !== undefined && grip.effort > this.grip.effort;
    // a whole chord on an easier grip, or any with the root lowest, is not surpassed
    if (this.#distance === 0 || (this.#distance === 1 && isHarder)) return;
    const distance = nameDistance(sound.set, chromaOf(sound.low));
    const fewer = distance >> 1 < this.#distance >> 1 || this.grip === undefined;
    if (!fewer && (isHarder || distance >= this.#distance)) return;
    this.#distance = distance;
    this.grip = grip;
    this.sound = sound;
  }
}

/**
 * The atlas of a neck, for a chosen grip or for all that the question allows. The name of a row is the
 * one that leaves out or adds least, on the easiest grip; under a straight bar.
 */
export function atlasOf(
  asked: Setup,
  neck: number,
  question: Question,
  chosen?: readonly number[],
): Atlas {
  const setup = leaving(asked, question.without);
  const on = combinationsOn(setup, neck, (engaged) => feetEffort(asked, engaged));
  const played = setup.necks[neck - 1];
  if (played === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
  const open = openMidi(played);
  const grips = gripsFor(setup, neck, question, chosen);
  const names = new AtlasNames(played, question.key);
  const wantedAt = wantedFrets(question);
  const [firstFret, lastFret] = question.frets;
  const isAllowed = ({ strings }: Grip): boolean =>
    question.necks.includes(neck) &&
    strings.every((string) => question.strings?.includes(string) ?? true);
  const seen = new Set<string>();
  const rows: AtlasRow[] = [];

  for (const combination of on.distinct) {
    const heard = heardWithout(on, combination);
    const pitches = open.map((midi, s) => midi + (on.moves[combination * on.strings + s] ?? 0));
    const best = new Best();
    const wanted = new Map<number, readonly number[]>();
    for (const grip of grips) {
      if (heard.some((bits) => (bits & grip.bits) === 0)) continue;
      const sound = soundOn(pitches, grip);
      if (chosen !== undefined) {
        // an easier combination that sounds the same on this grip stands for both
        const key = grip.strings.map((string) => pitches[string - 1]).join();
        if (seen.has(key)) continue;
        seen.add(key);
      }
      best.offer(grip, sound);
      const frets = wantedAt[sound.set] ?? 0;
      if (frets === 0 || !isAllowed(grip)) continue;
      for (let fret = firstFret; fret <= lastFret; fret++)
        if (
          (frets & (1 << (fret % 12))) !== 0 &&
          !wanted.has(fret) &&
          outerFits(question, sound, fret)
        )
          wanted.set(fret, grip.strings);
    }
    const { grip, sound } = best;
    if (grip === undefined || sound === undefined) continue;
    rows.push({
      engaged: on.engaged[combination] ?? [],
      strings: grip.strings,
      names: Array.from({ length: 12 }, (_, fret) =>
        names.at(transpose(sound.set, fret), chromaOf(sound.low + fret)),
      ),
      wanted: [...wanted]
        .map(([fret, strings]) => ({ fret, strings }))
        .sort((a, b) => a.fret - b.fret),
    });
  }
  return {
    neck,
    frets: setup.frets,
    names: names.all,
    wanted: names.ofChord(question.chord),
    rows,
  };
}
