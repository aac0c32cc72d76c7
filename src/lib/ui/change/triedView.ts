/** Which of the found pull sets is the one that is tried. */
import type { Pull, Setup, Station } from '$lib/setup/setup';

const textOf = ({ neck, string, semitones, half }: Pull): string =>
  [neck, string, semitones, half ?? ''].join(' ');

const same = (a: readonly Pull[], b: readonly Pull[]): boolean => {
  const [ours, theirs] = [a, b].map((pulls) => pulls.map(textOf).sort().join());
  return ours === theirs;
};

/** Does a setup, as it would be with what is proposed, have just these pulls at these stations? */
export const hasPulls = (
  after: Setup,
  controls: readonly { readonly station: Station; readonly pulls: readonly Pull[] }[],
): boolean =>
  controls.every(({ station, pulls }) =>
    after.controls.some((each) => each.station === station && same(each.pulls, pulls)),
  );
