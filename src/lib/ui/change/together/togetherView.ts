/** A choice for several stations in words. */
import { typeName } from '$lib/theory/display';
import { signed } from '$lib/theory/signed';
import { idAt } from '$lib/setup/controlText';
import type { Control, Setup } from '$lib/setup/setup';
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

/** A choice as new controls of a setup. */
export const newControls = (
  setup: Setup,
  { controls }: { readonly controls: readonly ToldControl[] },
): Control[] =>
  controls.map(({ station, pulls }) => ({ id: idAt(setup, station), station, pulls: [...pulls] }));

/** More choices than a minute or two of a machine with two cores, and than a sitting. */
const LONG = 5e7;
const VERY_LONG = 1e9;

/** How long so many choices take, where it is not soon. */
export const lastingText = (candidates: number): string =>
  candidates < LONG
    ? ''
    : `It may take ${candidates < VERY_LONG ? 'half an hour' : 'hours'}: stop it whenever you like. What is found stands here, the bound tells what can still come, and it goes on where it was, also when this page was closed.`;

/** `, about 40 seconds left`; nothing where it cannot be told. */
export function leftText(seconds: number | undefined): string {
  if (seconds === undefined) return '';
  if (seconds < 1.5) return ', about a second left';
  return seconds < 100
    ? `, about ${Math.ceil(seconds)} seconds left`
    : `, about ${Math.ceil(seconds / 60)} minutes left`;
}

export interface TogetherView {
  readonly controls: readonly {
    readonly station: string;
    readonly pulls: ReturnType<typeof suggestedView>['pulls'];
  }[];
  readonly score: string;
  readonly examples: ReturnType<typeof suggestedView>['examples'];
  readonly brings: string;
  readonly headroom: string | undefined;
  /** `The other way round, LKV 5 +1; RKV 5 −1: score 8.3`. */
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
    // best first; three stations have five other orders
    alike: alike
      .slice(0, 1)
      .map(
        (other) =>
          `${alike.length === 1 ? 'The other way round' : 'In another order'}, ${controlsText(other)}: score ${other.score.toFixed(1)}${alike.length === 1 ? '' : `, and in ${alike.length - 1} other orders for no more`}`,
      ),
  };
}
