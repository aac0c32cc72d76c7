/** Where two coverages differ most. */
import type { Coverage } from './coverage';
import type { PocketChord } from './pockets';
import type { Repertoire } from '$lib/theory/repertoire';
import type { TypeCoverage } from './types';

export interface TypeDifference {
  readonly type: string;
  readonly a: TypeCoverage;
  readonly b: TypeCoverage;
  /**
   * Voicings that the one has more than the other, as a share (0 … 1) of those of the richer: above 0
   * where the second setup is richer, below where the first is.
   */
  readonly lead: number;
}

/** What a pocket holds on either setup; the chords of both are told apart by how whole they are. */
export interface PocketDifference {
  readonly fret: number;
  readonly onlyA: readonly PocketChord[];
  readonly onlyB: readonly PocketChord[];
  /** Complete on one and with a tone missing on the other. */
  readonly wholerA: readonly PocketChord[];
  readonly wholerB: readonly PocketChord[];
}

const leadOf = (a: number, b: number): number => (a === b ? 0 : (b - a) / Math.max(a, b));

/** The types with the largest lead first; level ones by how often they are used. */
export function typeDifferences(
  a: Coverage,
  b: Coverage,
  repertoire: Repertoire,
): TypeDifference[] {
  return repertoire
    .flatMap(({ type, weight }, index) => {
      const ofA = a.types[index];
      const ofB = b.types[index];
      if (ofA === undefined || ofB === undefined) throw new Error(`no coverage of “${type}”`);
      const lead = leadOf(ofA.voicings, ofB.voicings);
      return [{ type, a: ofA, b: ofB, lead, weight }];
    })
    .sort((one, other) => Math.abs(other.lead) - Math.abs(one.lead) || other.weight - one.weight)
    .map(({ type, a: ofA, b: ofB, lead }) => ({ type, a: ofA, b: ofB, lead }));
}

const differing = (pocket: PocketDifference): number =>
  2 * (pocket.onlyA.length + pocket.onlyB.length) + pocket.wholerA.length + pocket.wholerB.length;

/** Every fret that both necks have, the pockets that differ in most chords first. */
export function pocketDifferences(a: Coverage, b: Coverage): PocketDifference[] {
  const frets = Math.min(a.pockets.length, b.pockets.length);
  return a.pockets
    .slice(0, frets)
    .map(({ fret, chords: ofA }): PocketDifference => {
      const ofB = b.pockets[fret]?.chords ?? [];
      const lacks = (others: readonly PocketChord[]) => (chord: PocketChord) =>
        !others.some(({ numeral }) => numeral === chord.numeral);
      const wholer = (others: readonly PocketChord[]) => (chord: PocketChord) =>
        chord.match === 'complete' &&
        others.some(({ numeral, match }) => numeral === chord.numeral && match === 'lean');
      return {
        fret,
        onlyA: ofA.filter(lacks(ofB)),
        onlyB: ofB.filter(lacks(ofA)),
        wholerA: ofA.filter(wholer(ofB)),
        wholerB: ofB.filter(wholer(ofA)),
      };
    })
    .sort((one, other) => differing(other) - differing(one) || one.fret - other.fret);
}
