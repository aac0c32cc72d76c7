/** Harmonised scales on E9 where players know them: common practice of the trade, from memory. */
import { expect, it } from 'vitest';
import { readScale } from '$lib/theory/scales';
import { builtIn } from '$lib/setup/builtIns';
import { engagedText } from '$lib/setup/engagedText';
import { ladder, type LadderInterval } from '$lib/scales/ladders';

function positions(interval: LadderInterval, strings: readonly number[]): string[] {
  const scale = readScale('E major');
  if (!scale.ok) throw new Error('E major');
  const question = { neck: 1, frets: [0, 12] as const, slants: false, way: 'up' } as const;
  const found = ladder(builtIn('e9'), scale.value, { ...question, interval, strings });
  return (found?.rungs ?? []).map(
    ({ step }) => `${step.hold.fret} ${engagedText(step.way) || '-'}`,
  );
}

it('sixths on strings 3 and 5 go by the open position and by A and B', () => {
  expect(positions('sixths', [3, 5]).join(', ')).toMatch(
    /^0 -, 0 A\+B, 2 A\+B, 5 -, 7 -, 7 A\+B, 10 -, 12 -/,
  );
});

it('thirds on strings 3 and 4 go by the open position and by B and C', () => {
  expect(positions('thirds', [3, 4]).join(', ')).toMatch(
    /^0 -, 0 B\+C, 2 B\+C, 5 -, 7 -, 7 B\+C, 9 B\+C, 12 -/,
  );
});
