/** Stops that no chord decides: they are told, with what they were given instead, and can be chosen. */
import { describe, expect, it } from 'vitest';
import { readChord } from '$lib/theory/readChord';
import type { Chord } from '$lib/theory/chord';
import { builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import { tune, type Tuning } from '$lib/tuning/tune';

const E9 = builtIn('e9');
const chord = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const named = ({ string, control, state }: Tuning['targets'][number]): string =>
  `${string} ${control ?? 'open'}${state === 'half' ? ' half' : ''}`;
const at = (tuning: Tuning, name: string) => {
  const found = tuning.targets.find((target) => named(target) === name);
  if (found === undefined) throw new Error(name);
  return found;
};

/** Strings and pulls that sound in a use, plainly: a pulled string is its pulls, another is itself. */
function sounded({ uses }: Tuning): Set<string> {
  const names = new Set<string>();
  for (const { use } of uses)
    for (const string of use.strings) {
      const pulls = use.engaged.flatMap(({ id, state }) =>
        (E9.controls.find((each) => each.id === id)?.pulls ?? [])
          .filter((pull) => pull.string === string && (state === 'full' || pull.half))
          .map(() => `${string} ${id}${state === 'half' ? ' half' : ''}`),
      );
      for (const name of pulls.length === 0 ? [`${string} open`] : pulls) names.add(name);
      if (pulls.length > 1) names.add(`${string} open`);
    }
  return names;
}

describe.each(['just', 'fitted'] as const)('by %s for one major chord', (method) => {
  const tuning = tune(E9, 1, { method, chords: [chord('C')] });
  const heard = sounded(tuning);
  /** A like note that is tuned with it: the same control, the same note name. */
  const withKin = (target: Tuning['targets'][number]) =>
    tuning.targets.filter(
      (other) =>
        other.control === target.control &&
        other.state === target.state &&
        (other.midi - target.midi) % 12 === 0,
    );

  it('what sounds in no chord, nor does a like note of it, is told as undecided', () => {
    const silent = tuning.targets.filter((target) =>
      withKin(target).every((each) => !heard.has(named(each))),
    );
    expect(silent.length).toBeGreaterThan(5);
    for (const target of silent) expect(target.given, named(target)).toBeDefined();
  });

  it('what a chord decides is not', () => {
    // C♯ is a just sixth over E, and so on: settled by the triads with A, B, LKL and open strings
    for (const name of [
      '3 open',
      '4 open',
      '5 open',
      '5 A',
      '10 A',
      '3 B',
      '6 B',
      '4 LKL',
      '8 LKL',
    ])
      expect(at(tuning, name).given, name).toBeUndefined();
  });

  it('it is given the place of the same note elsewhere, where a chord decides that', () => {
    // C raises string 5 to the C♯ that A raises it to
    expect(at(tuning, '5 C').given).toMatchObject({
      as: 'like',
      stop: { string: 5, control: 'A' },
    });
    expect(at(tuning, '5 C').cents).toBeCloseTo(at(tuning, '5 A').cents, 9);
  });

  it('else equal temperament', () => {
    // there is no A♯ but that of LKV
    expect(at(tuning, '5 LKV')).toMatchObject({ cents: 0, given: { as: 'equal' } });
  });

  it('a player can choose, and its like notes follow', () => {
    const chosen = [
      { neck: 1, string: 5, control: 'LKV', state: 'full', cents: -7 },
      // a chord decides this one, so that there is nothing to choose
      { neck: 1, string: 3, control: null, state: 'full', cents: 9 },
    ] as const;
    const made = tune(E9, 1, { method, chords: [chord('C')], chosen });
    for (const name of ['5 LKV', '10 LKV'])
      expect(at(made, name)).toMatchObject({ cents: -7, given: { as: 'chosen' } });
    expect(at(made, '3 open').cents).toBeCloseTo(at(tuning, '3 open').cents, 9);
  });
});

it('where no chords are asked, nothing is undecided', () => {
  for (const method of ['equal', 'saved'] as const)
    for (const { given } of tune(E9, 1, { method }).targets) expect(given).toBeUndefined();
});

it('strings that chords tie to each other alone lie as near to equal temperament as may be', () => {
  const read = readSetup({
    format: 1,
    name: 'an anchor that no chord has',
    frets: 0,
    necks: [
      {
        name: 'neck',
        strings: ['D5', 'G4', 'E4', 'C4'].map((open) => ({ open })),
      },
    ],
    controls: [],
  });
  if (!read.ok) throw new Error('good');
  const tuning = tune(read.value, 1, { method: 'fitted', chords: [chord('C')], anchor: 1 });
  // just offsets 1.955, −13.686 and 0, less their mean of −3.910
  const offsets = [0, 5.865, -9.776, 3.91];
  offsets.forEach((cents, place) => {
    expect(tuning.targets[place]?.cents).toBeCloseTo(cents, 2);
    expect(tuning.targets[place]?.given).toEqual(place === 0 ? undefined : { as: 'near' });
  });
});
