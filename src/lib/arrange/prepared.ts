/** From a slot and what is wished to its candidates. */
import { voicingKey } from './voicingKey';
import { allowedSets, defaultMatch, fewToneSets } from '$lib/theory/allowedSets';
import { chordOf, type Chord } from '$lib/theory/chord';
import { degreeParts } from '$lib/theory/degrees';
import { bassDegree } from '$lib/theory/duties';
import { has } from '$lib/theory/pcset';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import type { WantedNote, WantedSet } from '$lib/search/find';
import { gripOf } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import { thousandths } from '$lib/effort/effort';
import { CLARITY_WEIGHTS, EVEN } from '$lib/effort/weights';
import { compile, type Instrument } from '$lib/engine/instrument';
import { STRIDE, layerOf, type Layer } from '$lib/engine/layer';
import { Cached } from '$lib/engine/memo';
import { narrowed } from '$lib/engine/narrowed';
import { isPitch, type MelodyNote, type Step } from './progression';
import type { StepWishes, Wishes } from './wishes';

/** A chord with all its candidates. */
export interface Prepared {
  /** The step's index among all steps, from 0. */
  readonly index: number;
  readonly step: Step;
  readonly chord: Chord;
  /** The chord's tones, and the melody's where it is none of them. */
  readonly tones: readonly SpelledTone[];
  readonly sets: readonly WantedSet[];
  /** By neck, from 1. */
  readonly indexes: ReadonlyMap<number, NutIndex>;
  readonly layer: Layer;
  /** Something worked out of these candidates, which is remembered with the instrument where they are. */
  readonly remember: <T>(kind: Cached<T>, make: () => T) => T;
  /** The bass after the slash is left to the band. */
  readonly bandsBass: boolean;
}

/** What a step asks of the search, all wishes put together. */
interface Ask {
  readonly necks: readonly number[];
  readonly frets: readonly [number, number];
  readonly sizes: readonly [number, number];
  readonly slants: boolean;
  readonly without: readonly string[];
  readonly sets: readonly WantedSet[];
  readonly lowest: readonly WantedNote[];
  readonly highest: readonly WantedNote[];
}

/** The melody note that is to be on top here. */
function wantedTop(
  melody: MelodyNote | undefined,
  wishes: Wishes,
  own: StepWishes,
): WantedNote | undefined {
  const wish = own.melody ?? wishes.melody;
  if (melody === undefined || wish === 'off') return undefined;
  if (wish === 'octave' || !isPitch(melody)) return { chroma: chromaOfName(melody) };
  return { midi: melody.midi - (own.octaveDown ? 12 : 0) };
}

/** The sets of pitch classes that will do; a melody note foreign to the chord is added to each. */
function setsFor(
  chord: Chord,
  top: WantedNote | undefined,
  wishes: Wishes,
  own: StepWishes,
): WantedSet[] {
  const must = own.anyTones ? [] : wishes.must;
  const chroma = top && ('midi' in top ? chromaOf(top.midi) : top.chroma);
  const match = own.match ?? wishes.match;
  const [, strings] = own.sizes ?? wishes.sizes;
  // one string or two say a chord by any of its tones, unless the whole of it is asked for
  if (strings <= 2 && match !== 'complete' && must.length === 0) {
    if (chroma === undefined || has(chord.pitchClasses, chroma)) return fewToneSets(chord, strings);
    return strings === 1
      ? [{ set: 1 << chroma, missing: chord.tones.map(({ degree }) => degree) }]
      : fewToneSets(chord, 1).map(({ set, missing }) => ({ set: set | (1 << chroma), missing }));
  }
  const sets = allowedSets(chord, match ?? defaultMatch(chord)).filter(
    ({ missing }) => !missing.some((degree) => must.includes(degreeParts(degree).number)),
  );
  if (chroma === undefined || has(chord.pitchClasses, chroma)) return sets;
  return sets.map(({ set, missing }) => ({ set: set | (1 << chroma), missing }));
}

function tonesOf(
  chord: Chord,
  melody: MelodyNote | undefined,
  top: WantedNote | undefined,
): SpelledTone[] {
  if (melody === undefined || top === undefined) return [...chord.tones];
  const chroma = chromaOfName(melody);
  if (has(chord.pitchClasses, chroma)) return [...chord.tones];
  const { letter, alter } = melody;
  const degree = bassDegree(chromaOf(chroma - chromaOfName(chord.root)));
  return [...chord.tones, { degree, chroma, name: { letter, alter }, role: 'extension' }];
}

/** Some dozen different chords make a piece; a long sitting must not fill the memory. */
const LAYERS = new Cached<Layer>(300);

/** The candidates of what is asked, remembered with the instrument; and what is worked out of them. */
function candidatesFor(
  instrument: Instrument,
  ask: Ask,
  { prefer, avoid, balance }: Wishes,
  indexes: ReadonlyMap<number, NutIndex>,
): Pick<Prepared, 'layer' | 'remember'> {
  const key = JSON.stringify([ask, prefer, avoid, balance]);
  const layer = instrument.once(LAYERS, key, () =>
    layerOf(instrument, [...indexes.values()], {
      ...ask,
      balance,
      prefer: new Set(prefer.map(gripOf)),
      avoid: new Set(avoid.map(gripOf)),
    }),
  );
  return { layer, remember: (kind, make) => instrument.once(kind, key, make) };
}

/** The candidates that locks leave. */
function unlocked(layer: Layer, { hold, fret, except }: StepWishes): Layer {
  if (hold === undefined && fret === undefined && except === undefined) return layer;
  const held = hold && voicingKey(hold, gripOf(hold.strings));
  return narrowed(layer, (candidate) => {
    const position = layer.positions[layer.position[candidate] as number];
    if (position === undefined) return false;
    const key = voicingKey(position, layer.grip[candidate] as number);
    return (
      (held === undefined || key === held) &&
      (fret === undefined || position.fret === fret) &&
      !(except?.includes(key) ?? false)
    );
  }).layer;
}

const NOTHING: StepWishes = {};

/** The chord above the slash. */
function withoutBass(chord: Chord): Chord {
  const degrees = chord.tones.filter(({ role }) => role !== 'bass').map(({ degree }) => degree);
  return chordOf(chord.root, degrees);
}

/** Does every grip rub by a semitone, or is one that does not as dear as that? */
function isClustered({ count, effort, pitches, size }: Layer): boolean {
  const limit = thousandths(
    [{ part: 'clarity', value: CLARITY_WEIGHTS.semitone }],
    'clarity',
    EVEN,
  );
  let rubs = false;
  for (let candidate = 0; candidate < count; candidate++) {
    let closest = Infinity;
    const from = candidate * STRIDE;
    for (let at = from + 1; at < from + (size[candidate] as number); at++)
      closest = Math.min(closest, (pitches[at] as number) - (pitches[at - 1] as number));
    if (closest === 1) rubs = true;
    else if ((effort[candidate] as number) < limit) return false;
  }
  return rubs;
}

/**
 * The candidates of one step under all wishes. The step must have a chord. A bass that would make a cluster
 * of the grip is left to the band, unless the grip is to have it.
 */
export function prepare(setup: Setup, wishes: Wishes, step: Step, index: number): Prepared {
  const { chord } = step;
  if (chord === 'no chord') throw new Error('a chord to prepare, not “no chord”');
  const own = wishes.steps.get(index) ?? NOTHING;
  const asWritten = () => prepareChord(setup, wishes, step, index, chord);
  if (chord.bass === undefined || own.hold !== undefined || wishes.bass === 'grip')
    return asWritten();
  const band = () => ({
    ...prepareChord(setup, wishes, step, index, withoutBass(chord)),
    chord,
    bandsBass: true,
  });
  if (wishes.bass === 'band') return band();
  const written = asWritten();
  if (!isClustered(written.layer)) return written;
  const without = band();
  return without.layer.count > 0 ? without : written;
}

function prepareChord(
  setup: Setup,
  wishes: Wishes,
  step: Step,
  index: number,
  chord: Chord,
): Prepared {
  const { melody } = step;
  const own = wishes.steps.get(index) ?? NOTHING;
  const top = wantedTop(melody, wishes, own);
  const sets = setsFor(chord, top, wishes, own);
  const without = own.anyControl ? [] : wishes.without;
  const necks = wishes.necks ?? setup.necks.map((_, at) => at + 1);
  const ask: Ask = {
    necks,
    frets: (own.anyFret ? undefined : wishes.frets) ?? [0, setup.frets],
    sizes: own.sizes ?? wishes.sizes,
    slants: own.slants ?? wishes.slants,
    without,
    sets,
    lowest: chord.bass === undefined ? [] : [{ chroma: chromaOfName(chord.bass) }],
    highest: [top, own.top].filter((note) => note !== undefined),
  };
  const playing = compile(setup).leaving(without);
  const indexes = new Map(necks.map((neck) => [neck, playing.index(neck, ask)] as const));
  const all = candidatesFor(playing, ask, wishes, indexes);
  const layer = unlocked(all.layer, own);
  return {
    index,
    step,
    chord,
    tones: tonesOf(chord, melody, top),
    sets,
    indexes,
    layer,
    remember: layer === all.layer ? all.remember : (_kind, make) => make(),
    bandsBass: false,
  };
}
