/**
 * The whole instrument on one sheet: rows are what the legs can hold, columns frets, and every cell has
 * the best name of what sounds there. The bar transposes everything, so a row is searched once, at the
 * nut, and named twelve times.
 *
 * A row counts only where no control of it is idle on the grip (model of a way): what sounds without
 * a control too is found in the row without it.
 */
import { transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, type Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { isInSecondHome } from '$lib/setup/secondHome';
import { openMidi, type Neck, type Setup } from '$lib/setup/setup';
import type { NeckCombinations } from '$lib/search/combinations';
import { isNote } from '$lib/search/find';
import { gripOf, gripsOf, stringsIn, type Grip } from '$lib/search/grip';
import { homeStrings } from '$lib/effort/picking';
import { pickingPrice } from '$lib/effort/prices';
import { compile } from '$lib/engine/instrument';
import { AtlasNames, nameDistance, type AtlasName } from './atlasNames';
import { wantedSets } from '$lib/engine/rankedVoicings';
import type { Question } from './question';

/** A position that gives the wanted chord, on its easiest grip there. */
export interface WantedPosition {
  readonly fret: number;
  readonly strings: readonly number[];
}

export interface AtlasRow {
  readonly engaged: Choice;
  /** The grip that the names are of. */
  readonly strings: readonly number[];
  /** By fret modulo 12: an index into the atlas's `names`. */
  readonly names: readonly number[];
  /** Ascending by fret. */
  readonly wanted: readonly WantedPosition[];
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

/** A grip to look at, with its strings and its price for the picking hand. */
interface LookedAt {
  readonly grip: Grip;
  readonly strings: readonly number[];
  /** In thousandths. */
  readonly effort: number;
}

const lookAt = (neck: Neck, grip: Grip, home: readonly number[]): LookedAt => ({
  grip,
  strings: stringsIn(grip),
  effort: pickingPrice(neck, grip, home),
});

/** All grips that the question allows, easiest for the picking hand first, or the chosen one. */
function gripsFor(
  neck: Neck,
  { sizes, strings }: Question,
  chosen: readonly number[] | undefined,
): LookedAt[] {
  const home = homeStrings(neck);
  if (chosen !== undefined) return [lookAt(neck, gripOf(chosen), home)];
  const grips = gripsOf(neck.strings.length, sizes, strings && gripOf(strings));
  // a stable sort: equal efforts stay in the order of their strings
  return grips.map((grip) => lookAt(neck, grip, home)).sort((a, b) => a.effort - b.effort);
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

/**
 * The frets, modulo 12, at which each set of pitch classes at the nut is the wanted chord on a grip of so
 * many strings: a bit a fret.
 */
function wantedFrets(question: Question, size: number): Uint16Array {
  const frets = new Uint16Array(4096);
  for (const { set, strings = size } of wantedSets(question))
    if (strings === size)
      for (let fret = 0; fret < 12; fret++) {
        const atNut: PcSet = transpose(set, -fret);
        frets[atNut] = (frets[atNut] ?? 0) | (1 << fret);
      }
  return frets;
}

/** What a grip sounds with the bar at the nut. */
interface GripSound {
  readonly set: PcSet;
  readonly low: Midi;
  readonly high: Midi;
}

function soundOn(pitches: readonly Midi[], { strings }: LookedAt): GripSound {
  let set = 0;
  let low = Infinity;
  let high = -Infinity;
  for (const string of strings) {
    const pitch = pitches[string - 1] ?? 0;
    set |= 1 << chromaOf(pitch);
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
  grip: LookedAt | undefined;
  sound: GripSound | undefined;

  offer(grip: LookedAt, sound: GripSound): void {
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
  const instrument = compile(asked).leaving(question.without);
  const { setup } = instrument;
  const played = setup.necks[neck - 1];
  if (played === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
  const on = instrument.combinationsOn(neck);
  const open = openMidi(played);
  const grips = gripsFor(played, question, chosen);
  const names = new AtlasNames(played, question.key);
  const second = instrument.secondHome(neck);
  const wantedAt = new Map<number, Uint16Array>();
  const [firstFret, lastFret] = question.frets;
  const isAllowed = ({ strings }: LookedAt): boolean =>
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
      if (heard.some((bits) => (bits & grip.grip) === 0)) continue;
      const sound = soundOn(pitches, grip);
      if (chosen !== undefined) {
        // an easier combination that sounds the same on this grip stands for both
        const key = grip.strings.map((string) => pitches[string - 1]).join();
        if (seen.has(key)) continue;
        seen.add(key);
      }
      best.offer(grip, sound);
      const size = grip.strings.length;
      let wantedOn = wantedAt.get(size);
      if (wantedOn === undefined) wantedAt.set(size, (wantedOn = wantedFrets(question, size)));
      const frets = wantedOn[sound.set] ?? 0;
      if (frets === 0 || !isAllowed(grip)) continue;
      for (let fret = firstFret; fret <= lastFret; fret++)
        if (
          (frets & (1 << chromaOf(fret))) !== 0 &&
          !wanted.has(fret) &&
          outerFits(question, sound, fret)
        )
          wanted.set(fret, grip.strings);
    }
    const { grip, sound } = best;
    if (grip === undefined || sound === undefined) continue;
    const engaged = on.engaged[combination] ?? [];
    const root = second && isInSecondHome(second, engaged) ? second.roots[0] : undefined;
    rows.push({
      engaged,
      strings: grip.strings,
      names: Array.from({ length: 12 }, (_, fret) =>
        names.at(transpose(sound.set, fret), chromaOf(sound.low + fret), fret, root),
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

/** The atlas of a neck under the limits of a question, for one grip or for all. */
export const atlas = (
  setup: Setup,
  question: Question,
  neck: number,
  strings?: readonly number[],
): Atlas => atlasOf(setup, neck, question, strings);
