/** A changed shape as a player reads it: at a fret, named, with what it costs and what it cost. */
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import { chordOf, type Chord } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { chromaOf } from '$lib/theory/pitch';
import { commonRoot } from '$lib/theory/spelling';
import { effortOfVoicing } from '$lib/engine/rank';
import type { Instrument } from '$lib/engine/instrument';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { fretsWithin, type Shape } from '$lib/engine/shapes';
import { voicingAt } from '$lib/search/voicing';
import type { Change } from './change';
import { shapeNow, type ChangedShape } from './changedShape';
import type { ChangeKind } from './changeKinds';
import { chordsSaid, type Yardstick } from './yardstick';

/** The chord of a chord number with the bar at a fret. */
export function chordAt(by: Yardstick, chordNumber: number, fret: number): Chord {
  const suffix = by.types[Math.floor(chordNumber / 12)] ?? '';
  const root = commonRoot(chromaOf(chordNumber + fret), suffix);
  return chordOf(root, typeWithSuffix(suffix)?.degrees ?? []);
}

export interface ChangedVoicing extends RankedVoicing {
  /** What it is, the complete ones first. */
  readonly chords: readonly Chord[];
  /** What it cost before, where it could be played. */
  readonly before?: RankedVoicing['effort'];
}

/** A shape at a fret as a voicing of a chord. */
export function ranked(
  instrument: Instrument,
  { neck, number }: Shape,
  fret: number,
  chord: Chord,
): RankedVoicing {
  const sets = allowedSets(chord, defaultMatch(chord));
  const voicing = voicingAt(neck.index, number, fret, sets);
  return { voicing, effort: effortOfVoicing(instrument, voicing) };
}

/**
 * A changed shape with the bar at a fret; one that is lost as it was. Where a chord number is given, its
 * chord comes first.
 */
export function changedVoicing(
  change: Change,
  changed: ChangedShape,
  fret: number,
  chordNumber?: number,
): ChangedVoicing {
  const { by, instruments } = change;
  const shape = shapeNow(changed);
  const chordNumbers = chordsSaid(by, shape.set).sort(
    (a, b) => Number(b === chordNumber) - Number(a === chordNumber),
  );
  const chords = chordNumbers.map((each) => chordAt(by, each, fret));
  const [chord] = chords;
  if (chord === undefined) throw new Error('a changed shape that says no chord');
  const instrument = instruments[changed.after === undefined ? 'before' : 'after'];
  return {
    ...ranked(instrument, shape, fret, chord),
    chords,
    ...(changed.before === undefined || changed.after === undefined
      ? {}
      : { before: ranked(instruments.before, changed.before, fret, chord).effort }),
  };
}

/**
 * Every voicing of a kind within some frets, least effort first, then by fret, then in the order of
 * the shapes; at most `most` of them, all where 0.
 */
export function alongTheNeck(
  { shapes }: Change,
  kind: ChangeKind,
  frets: readonly [number, number],
  most: number,
): { readonly changed: ChangedShape; readonly fret: number }[] {
  const all = shapes[kind].flatMap((changed, order) => {
    const shape = shapeNow(changed);
    return fretsWithin(shape, frets).map((fret) => ({
      changed,
      fret,
      order,
      effort: shape.neck.effortAt(shape.number, fret),
    }));
  });
  all.sort((a, b) => a.effort - b.effort || a.fret - b.fret || a.order - b.order);
  return most === 0 ? all : all.slice(0, most);
}
