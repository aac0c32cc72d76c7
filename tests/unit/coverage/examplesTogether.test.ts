/** What one plays first with two new controls. */
import { expect, it } from 'vitest';
import { examplesTogether } from '$lib/coverage/examplesTogether';
import { yardstick } from '$lib/coverage/yardstick';
import { builtIn } from '$lib/setup/builtIns';
import { withControl } from '$lib/setup/proposal';

// Six strings in C6, from the first on E C A G E C: with A raised to B flat there is C7, with the low E lowered to
// E flat Cm; Cm7 (C E flat G B flat) takes both.
it('begins with chords that take both, then has one of each', () => {
  const controls = [
    { id: 'LKV', station: 'LKV', pulls: [{ neck: 1, string: 3, semitones: 1 }] },
    { id: 'RKV', station: 'RKV', pulls: [{ neck: 1, string: 5, semitones: -1 }] },
  ] as const;
  const setup = builtIn('lap6-c6');
  const open = setup.necks[0]?.strings.map((each) => each.open.midi % 12);
  expect(open).toEqual([4, 0, 9, 7, 4, 0]);
  const after = controls.reduce((all, each) => withControl(all, each), setup);
  const by = yardstick(['', 'm', '7', 'm7'].map((type) => ({ type, weight: 1 })));
  const told = examplesTogether(after, controls, by, (type) => type === 'm7');
  expect(told).toHaveLength(3);
  expect(new Set(told.map(({ to }) => to.symbol)).size).toBe(3);
  const [first, ...others] = told;
  expect(first?.to).toMatchObject({ type: 'm7', root: 0 });
  expect([...(first?.held ?? []), first?.pressed].map((each) => each?.id).sort()).toEqual([
    'LKV',
    'RKV',
  ]);
  expect(others.some(({ held }) => held.length === 0)).toBe(true);
});
