/** How choices of pull sets for several stations are printed. */
import { controlText } from '$lib/setup/controlText';
import type { ToldTogether } from '$lib/coverage/foundTogether';
import type { Setup } from '$lib/setup/setup';
import { countText, numberText, print, table } from './out';
import { printPullRows } from './pullRows';
import { pullText } from './pullText';
import type { Printed } from './togetherFile';

type Controls = ToldTogether['controls'];

/** `LKV 5 −1 · RKV 5 +1`. */
export const controlsText = (controls: Controls): string =>
  controls.map(({ station, pulls }) => `${station} ${pulls.map(pullText).join(', ')}`).join(' · ');

/** A choice as the options of `change`. */
const withOptions = (controls: Controls): string[] =>
  controls.flatMap((control) => ['--with', controlText(control)]);

/** Says how a choice is looked at whole and written as a setup. */
export function printGoOn(controls: Controls, setup: string): void {
  print(
    `\nTo see the first whole: gripwright change --setup ${setup} ${withOptions(controls).join(' ')}; with --out FILE it is written as a setup.`,
  );
}

/** How many were weighed, and what the others were skipped by. */
function countsText({ done, candidates, weighed, skipped }: Printed): string {
  const by = [
    [skipped.must, 'do not move what must be moved'],
    [skipped.room, 'want more raises or lowers of a string than its finger takes'],
    [skipped.whole, 'with their whole first pull set'],
    [skipped.parts, 'by what their parts give'],
    [skipped.spots, 'by the chords that the two share'],
  ] as const;
  const said = by.flatMap(([many, text]) => (many === 0 ? [] : [`${numberText(many)} ${text}`]));
  return `${numberText(done)} of ${numberText(candidates)} choices looked at, of one station and of several: ${numberText(weighed)} weighed${said.length === 0 ? '' : `, the others skipped, for they cannot come among the best: ${said.join(', ')}`}.`;
}

/** Prints what was found; `name` is how the setup is called at the prompt. */
export function printTogether(printed: Printed, setup?: Setup, name?: string): void {
  const { best, frontier, left } = printed;
  print(`${countsText(printed)}\n`);
  if (left !== undefined) print(`Nothing that is left scores above ${left.toFixed(2)}.\n`);
  if (best.length === 0) print('No pulls for all of these stations add anything.');
  else {
    printPullRows(
      best.map(({ controls, alike, near, ...row }) => ({
        ...row,
        several: true,
        text: controlsText(controls),
        pulls: controls.flatMap(({ pulls }) => pulls),
        more: [
          ...alike.map(
            (other) => `the same as ${controlsText(other.controls)}: ${other.score.toFixed(2)}`,
          ),
          ...near.map(
            (other) =>
              `nearly the same: ${controlsText(other.controls)}, ${other.score.toFixed(2)}`,
          ),
        ],
      })),
      setup,
    );
    const folded = best.reduce((sum, { near }) => sum + near.length, 0);
    if (folded > 0)
      print(
        `\n${countText(folded, 'choice')} stand under others that bring nine of ten of the same new chords, and as much of each type but for ${printed.fold} % of the score; --fold 0 tells each by itself.`,
      );
  }
  if (frontier.length > 0) {
    print('\nWhat each string more buys: the best with so many strings moved');
    print(
      table(
        ['strings', 'score', 'pulls'],
        frontier.map(({ strings, score, controls }) => [
          String(strings),
          score.toFixed(2),
          controlsText(controls),
        ]),
        [0, 1],
      ),
    );
  }
  const [first] = best;
  if (first !== undefined && name !== undefined) printGoOn(first.controls, name);
}
