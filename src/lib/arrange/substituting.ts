/** Substitutions in a piece: what each saves or costs, by the exact best way before and after it. */
import { substitutionsOf, type Substitution } from '$lib/theory/substitutions';
import type { Chord } from '$lib/theory/chord';
import { PER_UNIT } from '$lib/effort/effort';
import type { Setup } from '$lib/setup/setup';
import { arrange } from './arrange';
import { keyOf } from './findKey';
import type { ChordChange, Measure, Piece } from './piece';
import { lengthsOf, progressionOf } from './pieceOf';
import { isChordsAlone, textureOf, type Texture, type Textures } from './texture';
import { arrangeTune } from './tune';
import type { Wishes } from './wishes';

/** A chord of a piece: its measure as it is written, from 0, and its number in it, from 0. */
export interface ChordPlace {
  readonly measure: number;
  readonly change: number;
}

/** One substitution at its place, weighed. */
export interface Weighed extends ChordPlace, Substitution {
  readonly instead: Chord;
  /** Efforts of the best arrangement without it and with it. */
  readonly before: number;
  readonly after: number;
}

interface Placed extends ChordPlace {
  readonly chord: Chord;
  readonly next: Chord | undefined;
  /** From the measure's beginning, and how long within it, in quarter notes. */
  readonly at: number;
  readonly lasts: number;
}

/** All chords in order, each with the one after it; what goes on over a bar line ends with its measure. */
function placesOf(piece: Piece): Placed[] {
  const lengths = lengthsOf(piece);
  const all = piece.measures.flatMap(({ chords }, measure) =>
    chords.map(({ at, chord }, change) => ({
      ...{ measure, change, at, chord },
      lasts: (chords[change + 1]?.at ?? lengths[measure] ?? at) - at,
    })),
  );
  return all.flatMap(({ chord, ...place }, index): Placed[] => {
    if (chord === 'no chord') return [];
    const next = all[index + 1]?.chord;
    return [{ ...place, chord, next: next === 'no chord' ? undefined : next }];
  });
}

/** The piece with a substitution in it. */
export function withSubstitution(
  piece: Piece,
  { measure, change }: ChordPlace,
  { chord, part }: Pick<Substitution, 'chord' | 'part'>,
): Piece {
  const place = placesOf(piece).find((each) => each.measure === measure && each.change === change);
  if (place === undefined) throw new Error('a chord that the piece has not got');
  const { at, lasts } = place;
  const measures = piece.measures.map((each, index): Measure => {
    if (index !== measure) return each;
    const chords = each.chords.flatMap((own, number): ChordChange[] => {
      if (number !== change) return [own];
      return part === 'whole' ? [{ at, chord }] : [own, { at: at + lasts / 2, chord }];
    });
    return { ...each, chords };
  });
  return { ...piece, measures };
}

/**
 * The least effort of playing a piece: by textures where some are asked for, else a voicing a chord. Wishes for
 * single chords are left out, for their numbers are others after a substitution. Nothing where it is not played.
 */
function leastOf(setup: Setup, piece: Piece, wishes: Wishes): number | undefined {
  const { textures } = wishes;
  if (textures !== undefined && !isChordsAlone(textures))
    return arrangeTune(setup, piece, textures, wishes, 1).ways[0]?.total;
  const { ways, unplayable } = arrange(setup, progressionOf(piece), wishes, 1);
  return unplayable.length > 0 ? undefined : ways[0]?.total;
}

const whole = (value: number): number => Math.round(value * PER_UNIT) / PER_UNIT;

/** How many measures are played so that chords are struck, of all that are played in a texture. */
function playedOfChords({ measures }: Piece, textures: Textures): 'all' | 'some' | 'none' {
  const all = measures.map((_, at) => textureOf(textures, at + 1));
  if (all.every(isOfChords)) return 'all';
  return all.every((each) => each === 'line') ? 'none' : 'some';
}

const isOfChords = (texture: Texture): boolean =>
  texture === 'chords' || texture === 'chord-melody';

/** What is to be said of substitutions where not all of them change what is played; nothing where they do. */
export function substitutionsSaid(
  piece: Piece,
  textures: Textures | undefined,
): string | undefined {
  const played = textures === undefined ? 'all' : playedOfChords(piece, textures);
  if (played === 'all') return undefined;
  return played === 'none'
    ? 'A line plays the tune alone, and another chord changes nothing for the hands. Choose chords or chord-melody to weigh substitutions.'
    : 'Where the tune is played as a line, in thirds, sixths or tenths, only substitutions that change what is played are listed.';
}

/**
 * The chords of a piece that may be looked at by one; all where none are named. Where chords are not struck, those alone
 * that change what is played.
 */
export function substitutionsIn(
  setup: Setup,
  piece: Piece,
  wishes: Wishes,
  at?: ChordPlace,
): readonly Weighed[] {
  const { textures } = wishes;
  if (textures !== undefined && playedOfChords(piece, textures) === 'none') return [];
  const counts = ({ measure, before, after }: Weighed): boolean =>
    textures === undefined || before !== after || isOfChords(textureOf(textures, measure + 1));
  const free: Wishes = { ...wishes, steps: new Map() };
  const before = leastOf(setup, piece, free);
  if (before === undefined) return [];
  const key = piece.key ?? keyOf(progressionOf(piece));
  const found = placesOf(piece)
    .filter(
      ({ measure, change }) => at === undefined || (measure === at.measure && change === at.change),
    )
    .flatMap(({ measure, change, chord: instead, next }) =>
      substitutionsOf(instead, next, key).flatMap((each): Weighed[] => {
        const place = { measure, change };
        const after = leastOf(setup, withSubstitution(piece, place, each), free);
        return after === undefined
          ? []
          : [{ ...place, ...each, instead, before: whole(before), after: whole(after) }];
      }),
    );
  // what saves most comes first
  return found
    .filter(counts)
    .sort((a, b) => a.after - b.after || a.measure - b.measure || a.change - b.change);
}
