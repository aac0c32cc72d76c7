/** A choice for several stations in words. */
import { typeName } from '$lib/theory/display';
import { signed } from '$lib/theory/signed';
import type { Setup } from '$lib/setup/setup';
import { scoreOfPart } from '$lib/coverage/clarity';
import type { ToldControl, ToldTogether } from '$lib/coverage/foundTogether';
import { suggestedView } from '../suggestedView';

const pullsText = ({ station, pulls }: ToldControl): string =>
  `${station} ${pulls
    .map(
      ({ neck, string, semitones }) =>
        `${neck === 1 ? '' : `neck ${neck} `}${string} ${signed(semitones)}`,
    )
    .join(', ')}`;

/** `LKV 5 −1; RKV 5 +1`. */
export const controlsText = ({ controls }: { readonly controls: readonly ToldControl[] }): string =>
  controls.map(pullsText).join('; ');

export interface TogetherView {
  readonly controls: readonly {
    readonly station: string;
    readonly pulls: ReturnType<typeof suggestedView>['pulls'];
  }[];
  readonly score: string;
  readonly examples: ReturnType<typeof suggestedView>['examples'];
  readonly brings: string;
  readonly headroom: string | undefined;
  /** `The same at the other stations (…): 8.3`. */
  readonly alike: readonly string[];
}

export function togetherView(setup: Setup, told: ToldTogether, fret: number): TogetherView {
  const { gain, score, examples, byType, opens, controls, alike } = told;
  const viewOf = (pulls: ToldControl['pulls']) =>
    suggestedView(
      setup,
      { candidate: 0, pulls, gain, score, examples: [...examples], byType, opens },
      fret,
    );
  const all = viewOf(controls.flatMap(({ pulls }) => pulls));
  return {
    controls: controls.map(({ station, pulls }) => ({ station, pulls: viewOf(pulls).pulls })),
    score: score.toFixed(1),
    examples: all.examples,
    brings: byType
      .slice(0, 4)
      .map((each) => `${typeName(each.type)} ${signed(scoreOfPart(each.gain, gain, score), 1)}`)
      .join(', '),
    headroom: all.headroom,
    alike: alike.map(
      (other) => `The same pulls as ${controlsText(other)}: ${other.score.toFixed(1)}`,
    ),
  };
}
