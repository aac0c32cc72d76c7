/** What a friend's pedals and levers do that mine do not, as Compare offers it to be tried. */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { withControl, withoutControl } from '$lib/setup/proposal';
import { pullsApart } from '$lib/ui/compare/pullsApart';

const E9 = builtIn('e9');

it('tells the control that mine lacks, where it would stand, and what would give way to it', () => {
  const lever = { neck: 1, semitones: 1 };
  const raised = withControl(E9, { id: 'X', station: 'RKV', pulls: [{ ...lever, string: 5 }] });
  // B3 up by a semitone is C4, at a station that is free on mine
  expect(pullsApart(raised, E9, 'e9')).toEqual([
    { words: 'RKV: 5 B3 → C4', instead: '', address: 'with=RKV:5%2B1&station=RKV' },
  ]);
  const other = withControl(E9, { id: 'F', station: 'LKL', pulls: [{ ...lever, string: 5 }] });
  expect(pullsApart(other, E9, 'e9')).toEqual([
    { words: 'LKL: 5 B3 → C4', instead: 'LKL', address: 'with=LKL:5%2B1&station=LKL' },
  ]);
});

it('passes over pulls that another of my controls has, in whatever order, and strings that are tuned otherwise', () => {
  expect(pullsApart(E9, E9, 'e9')).toEqual([]);
  expect(pullsApart(withoutControl(E9, 'A'), E9, 'e9')).toEqual([]);
  // A of the E9 at another pedal, its strings named from the bottom
  const [a] = E9.controls;
  const elsewhere = withControl(withoutControl(E9, 'A'), {
    ...{ id: 'A', station: 'P4' as const },
    pulls: [...(a?.pulls ?? [])].reverse(),
  });
  expect(pullsApart(elsewhere, E9, 'e9')).toEqual([]);
  // six strings in C6 have none of the E9's notes where its pedals pull
  expect(pullsApart(E9, builtIn('lap6-c6'), 'lap6-c6')).toEqual([]);
});
