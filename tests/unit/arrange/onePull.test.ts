/** The one pull more that makes a chord playable, on setups so small that it can be found by hand. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readControl } from '$lib/setup/controlText';
import { withControl } from '$lib/setup/proposal';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { arrange } from '$lib/arrange/arrange';
import { onePullFor, onePullWords } from '$lib/arrange/onePull';
import { stepsOf } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { noWishes, type StepWishes, type Wishes } from '$lib/arrange/wishes';
import type { StringRange } from '$lib/setup/candidates';

function setupOf(strings: readonly string[]): Setup {
  const read = readSetup({
    format: 1,
    name: 'Plain board',
    frets: 12,
    necks: [{ name: 'Neck', strings: strings.map((open) => ({ open })) }],
    controls: [],
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

function pulls(
  setup: Setup,
  text: string,
  wishes: Partial<Wishes> = {},
  ranges: readonly StringRange[] = [],
) {
  const [step] = stepsOf(readProgression(text).progression);
  if (step === undefined) throw new Error(`no chord in ${text}`);
  return onePullFor(setup, { ...noWishes(false), ...wishes }, step, 0, ranges, 99);
}

const triad = setupOf(['D4', 'B3', 'G3']);
const moves = (found: ReturnType<typeof pulls>) =>
  found.map(({ pull }) => `${pull.string}${pull.semitones > 0 ? '+' : ''}${pull.semitones}`).sort();

describe('one pull on three strings tuned to a major triad', () => {
  // Two triads of unlike kind share two notes in three ways and no more: parallel (the third down a
  // semitone), relative (the fifth up two), leading-tone exchange (the root down a semitone). These
  // are the operations P, R and L of neo-Riemannian theory (Cohn 1997, J. Music Theory 41).
  it('makes a minor triad in the three ways that there are', () => {
    expect(moves(pulls(triad, 'Gm'))).toEqual(['1+2', '2-1', '3-1']);
  });
  it('makes the parallel minor alone where the bar may not move', () => {
    expect(moves(pulls(triad, 'Gm', { frets: [0, 0] }))).toEqual(['2-1']);
  });
  it('leaves strings alone that do not bear it', () => {
    const range = { neck: 1, string: 2, least: 0, most: 3 };
    expect(moves(pulls(triad, 'Gm', {}, [range]))).toEqual(['1+2', '3-1']);
  });
  it('is told in words, on a lever that is free', () => {
    const [parallel] = pulls(triad, 'Gm', { frets: [0, 0] });
    if (parallel === undefined) throw new Error('nothing found');
    expect(parallel.isNew).toBe(true);
    expect(onePullWords(triad, parallel)).toBe(
      `a new ${parallel.control.station} that lowers string 2 by a semitone`,
    );
  });
  it('is none for a chord that is there already, nor for one too far away', () => {
    expect(pulls(triad, 'A')).toEqual([]);
    // G, B♭, D♭ shares with G, B, D the root alone: two notes have to move
    expect(pulls(triad, 'Gdim', { frets: [0, 0] })).toEqual([]);
    // where the bar may move there is one: G♯ B D, the root raised
    expect(moves(pulls(triad, 'Gdim'))).toContain('3+1');
  });
});

it('is none on a control whose other pull spoils the chord', () => {
  const control = readControl(triad, 'LKL:3+1');
  if (!control.ok) throw new Error('unreadable');
  const found = pulls(withControl(triad, control.value), 'Gm', { frets: [0, 0] });
  // G♯ B D with the root raised; lowering B as well makes no G minor, so only a new lever does
  expect(found.map(({ control: { id }, isNew }) => [id, isNew])).toEqual([['LKV', true]]);
});

it('makes the chord playable, each of them, when it is put on; new levers come first', () => {
  const e9 = builtIn('e9');
  const { progression } = readProgression('Cmaj7');
  const wishes: Wishes = { ...noWishes(false), match: 'complete', frets: [3, 3], sizes: [4, 4] };
  expect(arrange(e9, progression, wishes, 1).unplayable).toHaveLength(1);
  const found = pulls(e9, 'Cmaj7', wishes);
  expect(found.length).toBeGreaterThan(0);
  for (const { control } of found)
    expect(arrange(withControl(e9, control), progression, wishes, 1).unplayable).toEqual([]);
  // what a control did before, it does still
  for (const { control, isNew } of found)
    if (!isNew) {
      const was = e9.controls.find(({ id }) => id === control.id);
      expect(control.pulls).toEqual(expect.arrayContaining([...(was?.pulls ?? ['no control'])]));
    }
  const kinds = found.map(({ isNew }) => isNew);
  expect(kinds).toContain(false);
  expect(kinds).toEqual([...kinds].sort((a, b) => Number(b) - Number(a)));
});

it('is not looked for where a lock alone stands in the way', () => {
  const hold = { neck: 1, fret: 3, slant: 0, strings: [1, 2, 3], engaged: [] };
  const steps = new Map<number, StepWishes>([[0, { hold }]]);
  expect(pulls(triad, 'A', { steps })).toEqual([]);
});
