/** The positions of a chord for a book: the easiest ones, with all grips that lie there, as small necks. */
import { defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import { USUAL_SIZES, slantsByDefault } from '$lib/search/nutIndex';
import type { Voicing } from '$lib/search/voicing';
import { EVEN } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { rankedVoicings } from '$lib/engine/rankedVoicings';
import type { PaperNeck } from '$lib/formats/book';
import { fretWords, gripTexts, lies, neckName, stringsOf } from './paperNeck';
import { foldedPositions } from './positions';
import { toneText } from './voicingText';

/** A position with its grips, as it is found for a chord. */
export interface Found {
  readonly voicing: Voicing;
  readonly effort: number;
  /** Of the same hands and the same fret, the best first. */
  readonly grips: readonly (readonly number[])[];
}

/** Where the bar may lie: what goes on above is the same an octave higher. */
export const FRETS = 12;

/** The best positions of a chord, easiest first, octaves folded. */
export function positionsOfChord(
  setup: Setup,
  chord: Chord,
  most: number,
  necks = setup.necks.map((_, index) => index + 1),
): Found[] {
  const ranking = rankedVoicings(compile(setup), {
    chord,
    necks,
    frets: [0, Math.min(FRETS, setup.frets)],
    sizes: USUAL_SIZES,
    match: defaultMatch(chord),
    without: [],
    slants: slantsByDefault(setup),
    balance: EVEN,
  });
  return foldedPositions(ranking)
    .slice(0, most)
    .flatMap((rows): Found[] => {
      const [first] = rows;
      if (first === undefined) return [];
      const { voicing, effort } = ranking.at(first.index);
      const grips = rows.map(({ index }) => ranking.at(index).voicing.strings);
      return [{ voicing, effort: effort.total, grips }];
    });
}

/**
 * A found position as a small neck.
 *
 * @param name what stands above it; its fret where that is left out
 */
export function foundNeck(setup: Setup, chord: Chord, found: Found, name?: string): PaperNeck {
  const { voicing, effort } = found;
  const { neck, fret, slant, strings, frets } = voicing;
  // under a slant only the strings of its own grip lie where the bar stops them
  const grips = slant === 0 ? found.grips : found.grips.slice(0, 1);
  const engaged = voicing.ways[0] ?? [];
  const slanted =
    slant === 0
      ? {}
      : { frets: new Map(strings.map((string, at) => [string, frets[at] ?? fret] as const)) };
  return {
    neck,
    name: name ?? fretWords(voicing),
    remark: name === undefined ? neckName(setup, neck) : lies(setup, voicing),
    fret,
    engaged,
    strings: stringsOf(setup, {
      neck,
      fret,
      engaged,
      grips,
      tones: chord.tones,
      ...slanted,
    }),
    grips: gripTexts(grips),
    missing: voicing.missing.map(toneText),
    effort,
  };
}
