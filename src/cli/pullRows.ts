/** A table of pulls, the best first: the score and most of it, and under each what it is good for. */
import { exampleText } from '$lib/answers/exampleText';
import { scoreOfPart } from '$lib/coverage/clarity';
import type { Suggested } from '$lib/coverage/suggestion';
import type { PlainPull } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import { typeName } from '$lib/theory/display';
import { countText, inLines, print, table } from './out';
import { leastHeadroom } from './pullText';

export interface PullRow extends Pick<
  Suggested,
  'score' | 'gain' | 'byType' | 'opens' | 'examples'
> {
  /** The pulls as they are told. */
  readonly text: string;
  readonly pulls: readonly PlainPull[];
  /** They are at several controls: examples say which is engaged. */
  readonly several?: boolean;
  /** What else is said of them. */
  readonly more?: readonly string[];
}

/** Prints them; how near the strings come to breaking is told where the setup is known. */
export function printPullRows(rows: readonly PullRow[], setup?: Setup): void {
  const [heading = '', ...entries] = table(
    ['score', 'pulls', 'most of it'],
    rows.map(({ score, gain: whole, text, byType }) => [
      score.toFixed(2),
      text,
      byType
        .slice(0, 4)
        .map(({ type, gain }) => `${typeName(type)} ${scoreOfPart(gain, whole, score).toFixed(1)}`)
        .join(', '),
    ]),
    [0],
  ).split('\n');
  print(heading);
  // what is behind the score stands under the pulls
  const indent = heading.indexOf('pulls');
  rows.forEach(({ pulls, opens, examples, several = false, more = [] }, at) => {
    print(entries[at] ?? '');
    const [first, ...others] = examples.map((example) => {
      const { chords, held, pressed, strings } = exampleText(example, 0);
      return `${chords} ${strings}${several ? ` ${pressed}` : ''}${held === '' ? '' : ` ${held}`}`;
    });
    if (first !== undefined) print(inLines([`to play: ${first}`, ...others], '; ', indent));
    const headroom = setup === undefined ? '' : leastHeadroom(setup, pulls);
    const reach = [
      `${countText(opens.length, 'chord')} on new roots`,
      ...(headroom === '' ? [] : [`least headroom ${headroom}`]),
      ...more,
    ];
    print(inLines(reach, '; ', indent));
  });
}
