/** A suggested pull set in words: what it moves, what it brings, what the strings say to it. */
import { prettyPitch, typeName } from '$lib/theory/display';
import { pitchNamed, chromaOf } from '$lib/theory/pitch';
import { signed } from '$lib/theory/signed';
import { exampleText, type ExampleText } from '$lib/answers/exampleText';
import { spelledBy } from '$lib/setup/spelledBy';
import type { Setup } from '$lib/setup/setup';
import { scoreOfPart } from '$lib/coverage/clarity';
import type { Suggested } from '$lib/coverage/suggestion';
import { BAND_SIGNS, BAND_WORDS, BANDS, worse, type Band } from '$lib/strings/bands';
import { strainsOf } from '$lib/strings/strains';
import { headroomText } from '$lib/strings/warnings';

export interface SuggestedView {
  /** `5 B3 → C4`, one a string. */
  readonly pulls: readonly {
    readonly string: string;
    readonly from: string;
    readonly to: string;
  }[];
  readonly score: string;
  /** What one would play first with it. */
  readonly examples: readonly ExampleText[];
  /** `major +24.9`, most first. */
  readonly brings: string;
  readonly newChords: number;
  /** `✓ 6.1 semitones`; nothing where no gauge is known. */
  readonly headroom?: string;
  readonly headroomSpoken?: string;
  readonly spoken: string;
}

export function suggestedView(
  setup: Setup,
  { pulls, gain, score, examples, byType, opens }: Suggested,
  fret: number,
): SuggestedView {
  const told = pulls.map(({ neck, string, semitones }) => {
    const played = setup.necks[neck - 1];
    const open = played?.strings[string - 1]?.open;
    const midi = (open?.midi ?? 0) + semitones;
    const to = pitchNamed(spelledBy(played)(chromaOf(midi)), midi);
    return {
      string: setup.necks.length > 1 ? `${played?.name ?? ''} ${string}` : String(string),
      from: open === undefined ? '' : prettyPitch(open),
      to: prettyPitch(to),
    };
  });
  const strains = strainsOf(setup, pulls);
  const known = strains.flatMap(({ headroomSemitones }) =>
    headroomSemitones === undefined ? [] : [headroomSemitones],
  );
  const band = strains.reduce<Band>((worst, each) => worse(worst, each.band ?? BANDS[0]), BANDS[0]);
  const least = Math.min(...known);
  return {
    pulls: told,
    score: score.toFixed(1),
    examples: examples.map((example) => exampleText(example, fret)),
    brings: byType
      .slice(0, 4)
      .map((each) => `${typeName(each.type)} ${signed(scoreOfPart(each.gain, gain, score), 1)}`)
      .join(', '),
    newChords: opens.length,
    ...(known.length === 0
      ? {}
      : {
          headroom: `${BAND_SIGNS[band]} ${headroomText(least)}`,
          headroomSpoken: `strings ${BAND_WORDS[band]}, least headroom ${headroomText(least)}`,
        }),
    spoken: pulls
      .map(
        ({ string, semitones }) =>
          `string ${string} ${semitones > 0 ? 'up' : 'down'} ${Math.abs(semitones)}`,
      )
      .join(', '),
  };
}
