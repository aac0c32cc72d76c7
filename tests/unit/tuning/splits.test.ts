/**
 * Splits by the stretch that they are. The square of a string's frequency is T / (4 L² μ) (Mersenne), and
 * tension grows with stretch in a straight line (Hooke), so that f²(split) = f²(raise) + f²(lower) − f²(open).
 * n semitones are a factor of 2^(n/6) in the square: of a raise by two and a lower by one the sum is
 * 1.259921 + 0.890899 − 1 = 1.150820, which is 600·log₂ 1.150820 = 121.597 cents.
 */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import type { Engaged, Setup } from '$lib/setup/setup';
import { heardPitches, heardVoicing } from '$lib/tuning/heard';
import { leftBy, type Split } from '$lib/tuning/splits';
import { splitText } from '$lib/tuning/stopText';
import { stepsOf } from '$lib/tuning/steps';
import { withTargets } from '$lib/tuning/targets';
import { tune, type Tuning } from '$lib/tuning/tune';
import { readChord } from '$lib/theory/readChord';
import type { Chord } from '$lib/theory/chord';

const E9 = builtIn('e9');
const WITH_STOPS: Setup = { ...E9, splitStops: true };
const engagedAs = (...ids: string[]): Engaged[] => ids.map((id) => ({ id, state: 'full' }));
const chord = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};

function splitAt({ splits }: Tuning, string: number, ...ids: string[]): Split {
  const found = splits.find(
    (split) => split.string === string && split.engaged.map(({ id }) => id).join() === ids.join(),
  );
  if (found === undefined) throw new Error(`${string} ${ids.join()}`);
  return found;
}

describe('a split without a stop of its own', () => {
  const equal = tune(E9, 1, { method: 'equal' });
  const split = splitAt(equal, 5, 'A', 'LKV');

  it('of A and LKV, tuned to equal temperament, comes out 21.6 cents sharp of C', () => {
    expect(split.midi).toBe(60);
    expect(split.cents).toBeCloseTo(21.597, 3);
    expect(split.wanted).toBe(0);
    expect(split.off).toBeCloseTo(21.597, 3);
    // C4 is 261.6256 Hz (ISO 16): × 2^(21.597/1200)
    expect(split.hz).toBeCloseTo(264.9098, 3);
    expect(split.ownStop).toBe(false);
  });

  it('says which stop would mend it, and by how much', () => {
    // raise: 600·log₂(2^(1/6) + 1 − 2^(−1/6)) − 200 = 600·log₂ 1.231563 − 200
    // lower: 600·log₂(2^(1/6) + 1 − 2^(1/3)) + 100 = 600·log₂ 0.862541 + 100
    expect(split.retune.map(({ id }) => id)).toEqual(['A', 'LKV']);
    expect(split.retune[0]?.cents).toBeCloseTo(-19.706, 3);
    expect(split.retune[1]?.cents).toBeCloseTo(-28.001, 3);
  });

  it.each([0, 1])('comes right when the stop %i of the two is retuned so', (which) => {
    const moved = split.retune[which];
    if (moved === undefined) throw new Error('no stop');
    const { id, state, cents } = moved;
    const setup = withTargets(E9, [{ neck: 1, string: 5, control: id, state, cents }]);
    // a file keeps tenths of a cent
    expect(Math.abs(splitAt(tune(setup, 1, { method: 'saved' }), 5, 'A', 'LKV').off)).toBeLessThan(
      0.1,
    );
  });

  it('is heard where it comes out', () => {
    const hold = { neck: 1, fret: 3, slant: 0, engaged: engagedAs('A', 'LKV'), strings: [5] };
    // B3 and a semitone, three frets up
    expect(heardPitches(E9, hold)[0]?.midi).toBeCloseTo(63.21597, 5);
  });

  it('is heard so where voicings are compared and changes weighed', () => {
    const voicing = {
      ...{ neck: 1, fret: 0, slant: 0, strings: [4, 5], frets: [0, 0], pitches: [64, 60] },
      ...{ pitchClasses: 0, missing: [], ways: [engagedAs('A', 'LKV')] },
    };
    expect(heardVoicing(E9, voicing)).toMatchObject([{ midi: 64 }, { string: 5 }]);
    expect(heardVoicing(E9, voicing)[1]?.midi).toBeCloseTo(60.21597, 5);
  });

  it('counts in the residual and the beats of chords', () => {
    // one chord that is played with the split alone: C E G♯ on an instrument of three strings
    const read = readSetup({
      format: 1,
      name: 'three strings',
      frets: 0,
      necks: [{ name: 'neck', strings: [{ open: 'G#4' }, { open: 'E4' }, { open: 'B3' }] }],
      controls: [
        { id: 'A', station: 'P1', pulls: [{ string: 3, semitones: 2 }] },
        { id: 'V', station: 'LKV', pulls: [{ string: 3, semitones: -1 }] },
      ],
    });
    if (!read.ok) throw new Error('good');
    const { uses } = tune(read.value, 1, { method: 'equal', chords: [chord('Caug')] });
    const [use] = uses;
    expect(use?.use.engaged.map(({ id }) => id)).toEqual(['A', 'V']);
    expect(use?.after.offsets[2]).toBeCloseTo(21.597, 3);
    expect(use?.before.offsets[2]).toBeCloseTo(21.597, 3);
  });
});

describe('chords fitted over splits', () => {
  const fitted = tune(E9, 1, { method: 'fitted' });

  /** Weighted squares of what each tone lies off its chord's best place, by hertz and plain formulas. */
  function total(offsets: readonly number[]): number {
    const square = (string: number, control: string | null, state = 'full'): number => {
      const place = fitted.stops.findIndex(
        (stop) => stop.string === string && stop.control === control && stop.state === state,
      );
      const midi = (fitted.stops[place]?.midi ?? 0) + (offsets[place] ?? 0) / 100;
      return (440 * 2 ** ((midi - 69) / 12)) ** 2;
    };
    let sum = 0;
    for (const { use } of fitted.uses) {
      const away = use.strings.map((string, tone) => {
        const pulls = use.engaged.flatMap(({ id, state }) =>
          (E9.controls.find((each) => each.id === id)?.pulls ?? [])
            .filter((pull) => pull.string === string)
            .map((pull) => ({
              id,
              state,
              way: state === 'half' ? (pull.half ?? 0) : pull.semitones,
            })),
        );
        const best = (sign: number) =>
          pulls.filter(({ way }) => way * sign > 0).sort((a, b) => (b.way - a.way) * sign)[0];
        const [up, down] = [best(1), best(-1)];
        const open = square(string, null);
        const hz = Math.sqrt(
          open +
            (up ? square(string, up.id, up.state) - open : 0) +
            (down ? square(string, down.id, down.state) - open : 0),
        );
        const degrees: Record<string, number> = {
          '1': 1,
          '3': 5 / 4,
          b3: 6 / 5,
          '5': 3 / 2,
          '6': 5 / 3,
          b5: 64 / 45,
          '#5': 25 / 16,
          b7: use.degrees.includes('b3') ? 9 / 5 : 16 / 9,
          '7': 15 / 8,
          '9': 9 / 8,
          bb7: 5 / 3,
          '4': 4 / 3,
          '2': 9 / 8,
          '11': 4 / 3,
          '13': 5 / 3,
          b9: 16 / 15,
          '#9': 6 / 5,
        };
        const ratio = degrees[use.tones[tone] ?? ''];
        if (ratio === undefined) throw new Error(`degree ${use.tones[tone]}`);
        const cents = 1200 * Math.log2(hz / ratio);
        return ((cents % 1200) + 1200) % 1200;
      });
      // on the circle of octaves, from the first
      const from = away[0] ?? 0;
      const near = away.map((each) => ((each - from + 1800) % 1200) - 600);
      const middle = near.reduce((a, b) => a + b, 0) / near.length;
      for (const each of near) sum += use.weight * (each - middle) ** 2;
    }
    return sum;
  }

  it('has chords with splits among them', () => {
    const both = fitted.uses.filter(({ use }) => use.engaged.some(({ id }) => id === 'LKV'));
    expect(both.length).toBeGreaterThan(0);
  });

  it('reports the residual of that formula', () => {
    const tones = fitted.uses.reduce((sum, { use }) => sum + use.weight * use.strings.length, 0);
    expect(Math.sqrt(total([...fitted.offsets]) / tones)).toBeCloseTo(fitted.residualAfter, 6);
  });

  it('stands where no stop, moved with its like notes, makes them better', () => {
    const least = total([...fitted.offsets]);
    const like = (a: number, b: number): boolean => {
      const [one, other] = [fitted.stops[a], fitted.stops[b]];
      return (
        one?.control === other?.control &&
        one?.state === other?.state &&
        ((one?.midi ?? 0) - (other?.midi ?? 0)) % 12 === 0
      );
    };
    fitted.stops.forEach((stop, place) => {
      // the anchor, E, stays
      if (stop.control === null && stop.midi % 12 === 4) return;
      for (const by of [-0.5, -0.05, 0.05, 0.5])
        expect(
          total([...fitted.offsets].map((each, other) => each + (like(place, other) ? by : 0))),
        ).toBeGreaterThanOrEqual(least - 1e-7);
    });
  });
});

describe('a changer with split stops', () => {
  const equal = tune(WITH_STOPS, 1, { method: 'equal' });

  it('has every split in tune, by a stop of its own', () => {
    for (const split of equal.splits) expect(Math.abs(split.off)).toBeLessThan(1e-9);
    // C pulls string 5 as far as A does, with which the stop is tuned
    const unstopped = equal.splits.filter(({ ownStop }) => !ownStop);
    expect(unstopped.map(({ string, engaged }) => [string, engaged[0].id])).toEqual([[5, 'C']]);
    for (const split of equal.splits) if (split.ownStop) expect(split.retune).toEqual([]);
    expect(splitAt(equal, 5, 'A', 'LKV')).toMatchObject({ cents: 0, off: 0 });
    const target = equal.targets.find(({ string, raisedBy }) => string === 5 && raisedBy === 'A');
    expect(target).toMatchObject({ control: 'LKV', midi: 60, cents: 0 });
    expect(target?.hz).toBeCloseTo(261.6256, 3);
  });

  it('has a step for it in the tuner, after the pulls of its lower', () => {
    const named = stepsOf(WITH_STOPS, equal.targets).map(({ control, string, raisedBy }) =>
      [raisedBy, control, string].filter((part) => part !== undefined).join(' '),
    );
    expect(named.indexOf('A LKV 5')).toBeGreaterThan(named.indexOf('LKV 5'));
    expect(named.indexOf('A LKV 5')).toBeLessThan(named.indexOf('RKL 1'));
    // strings 4, 5, 6 and 10 have a lower and a raise that can be held with it
    expect(named.filter((each) => /^[A-Z]+ [A-Z]+ \d+$/.test(each)).sort()).toEqual([
      'A LKV 10',
      'A LKV 5',
      'B RKL 6',
      'C LKR 4',
    ]);
  });

  it('keeps its target in the setup, and is heard there', () => {
    const place = {
      neck: 1,
      string: 5,
      control: 'LKV',
      state: 'full',
      raisedBy: 'A',
    } as const;
    const setup = withTargets(WITH_STOPS, [{ ...place, cents: -7.04 }]);
    expect(splitAt(tune(setup, 1, { method: 'saved' }), 5, 'A', 'LKV').cents).toBe(-7);
    const hold = { neck: 1, fret: 0, slant: 0, engaged: engagedAs('A', 'LKV'), strings: [5] };
    expect(heardPitches(setup, hold)[0]?.midi).toBeCloseTo(59.93, 9);
    expect(withTargets(setup, [{ ...place, cents: undefined }])).toEqual(WITH_STOPS);
  });

  it('with another raise lies off by what the raises differ', () => {
    // the stop is tuned with A (which stops at −9) and holds C there; C stops at +4 instead:
    // 600·log₂(2^(204/600) + 2^(100/600) − 2^(191/600)) − 100
    const setup = withTargets(WITH_STOPS, [
      { neck: 1, string: 5, control: 'A', state: 'full', cents: -9 },
      { neck: 1, string: 5, control: 'C', state: 'full', cents: 4 },
    ]);
    const made = tune(setup, 1, { method: 'saved' });
    expect(splitAt(made, 5, 'A', 'LKV').cents).toBe(0);
    const expected = 600 * Math.log2(2 ** (204 / 600) + 2 ** (100 / 600) - 2 ** (191 / 600)) - 100;
    expect(splitAt(made, 5, 'C', 'LKV').cents).toBeCloseTo(expected, 9);
  });

  it('says of a split with another raise that it cannot be tuned by itself, and which raise would mend it', () => {
    const setup = withTargets(WITH_STOPS, [
      { neck: 1, string: 5, control: 'C', state: 'full', cents: 4 },
    ]);
    const made = tune(setup, 1, { method: 'saved' });
    const split = splitAt(made, 5, 'C', 'LKV');
    // A and the split with it stand in equal temperament, so that C is off by its own 4 cents
    expect(split.retune).toEqual([
      { id: 'C', state: 'full', cents: expect.closeTo(-4, 9) as number },
    ]);
    expect(splitText(setup, split)).toBe(
      'String 5 with C and LKV sounds C4 4.5 cents sharp. It has no stop of its own: it cannot be tuned by itself. C 4.0 cents flatter would bring it right, with as much error alone.',
    );
  });

  it('fits chords at least as well as one without', () => {
    const without = tune(E9, 1, { method: 'fitted' });
    const made = tune(WITH_STOPS, 1, { method: 'fitted' });
    expect(made.residualAfter).toBeLessThanOrEqual(without.residualAfter + 1e-9);
  });
});

describe('two raises on one string', () => {
  it('never add: the farther decides, with a lower too', () => {
    // string 4: C raises by two, LKL by one; a knee cannot do LKL and LKR, so LKL with C alone
    const hold = { neck: 1, fret: 0, slant: 0, engaged: engagedAs('C', 'LKL'), strings: [4] };
    expect(heardPitches(E9, hold)[0]?.midi).toBe(66);
    // with LKR as well, were it possible, C and LKR are the split
    const three = { ...hold, engaged: engagedAs('C', 'LKL', 'LKR') };
    expect(heardPitches(E9, three)[0]?.midi).toBeCloseTo(65.21597, 5);
  });
});

/*
 * One string, B3; A raises it by two with a half-stop at one, V lowers it by two with a half-stop at one.
 * Squares against the open string: 2^(n/6), so 1.122462 and 1.259921 up, 0.890899 and 0.793701 down. The
 * split stop sets the lower's stretch so that A and V sound the open note: 1 = 1.259921 + v − 1, and the
 * lower adds v − 1 = −0.259921 wherever it meets that screw; short of it, at its half-stop, it adds its own.
 */
describe('half-stops on a changer with split stops', () => {
  const read = readSetup({
    format: 2,
    name: 'one string',
    splitStops: true,
    necks: [{ name: 'neck', strings: [{ open: 'B3' }] }],
    controls: [
      { id: 'A', station: 'P1', pulls: [{ string: 1, semitones: 2, half: 1 }] },
      { id: 'V', station: 'LKV', pulls: [{ string: 1, semitones: -2, half: -1 }] },
    ],
  });
  if (!read.ok) throw new Error('good');
  const setup = read.value;
  const made = tune(setup, 1, { method: 'equal' });
  const at = (raise: 'half' | 'full', lower: 'half' | 'full'): Split => {
    const found = made.splits.find(({ engaged: [a, v] }) => a.state === raise && v.state === lower);
    if (found === undefined) throw new Error(`${raise} ${lower}`);
    return found;
  };

  it('lie where the other stops leave them', () => {
    expect(at('full', 'full')).toMatchObject({ ownStop: true, midi: 59, off: 0, retune: [] });
    // 1.122462 − 0.259921 = 0.862541, which is −128.001 cents: A♯3 and 28.0 flat
    expect(at('half', 'full')).toMatchObject({ ownStop: false, midi: 58 });
    expect(at('half', 'full').off).toBeCloseTo(-28.001, 3);
    // 1.259921 + 0.890899 − 1 = 1.150820: C4 and 21.6 sharp
    expect(at('full', 'half')).toMatchObject({ ownStop: false, midi: 60 });
    expect(at('full', 'half').off).toBeCloseTo(21.597, 3);
    // 1.122462 + 0.890899 − 1 = 1.013361: B3 and 11.489 sharp
    expect(at('half', 'half')).toMatchObject({ ownStop: false, midi: 59 });
    expect(at('half', 'half').off).toBeCloseTo(11.489, 2);
  });

  it('say which half-stop would mend them, not the stop that they share', () => {
    // A♯3 is 0.890899; A½ would need 0.890899 + 0.259921 = 1.150820, which is 121.597 cents
    const [only, ...none] = at('half', 'full').retune;
    expect(only).toMatchObject({ id: 'A', state: 'half' });
    expect(only?.cents).toBeCloseTo(21.597, 3);
    expect(none).toEqual([]);
    // C4 is 1.122462: A would need 1.231563, 180.294 cents, and V½ 0.862541, −128.001
    const [a, v] = at('full', 'half').retune;
    expect(a).toMatchObject({ id: 'A', state: 'full' });
    expect(a?.cents).toBeCloseTo(-19.706, 3);
    expect(v).toMatchObject({ id: 'V', state: 'half' });
    expect(v?.cents).toBeCloseTo(-28.001, 3);
  });

  it('are told at the step of the split stop, and at no other', () => {
    for (const target of made.targets)
      expect(leftBy(made.splits, target)).toHaveLength(target.raisedBy === undefined ? 0 : 3);
    expect(splitText(setup, at('half', 'full'))).toBe(
      'String 1 with A at its half-stop and V sounds B♭3 28.0 cents flat. It has no stop of its own: it cannot be tuned by itself. A½ 21.6 cents sharper would bring it right, with as much error alone.',
    );
    expect(splitText(setup, at('full', 'half'))).toContain(
      'cannot be tuned by itself. A 19.7 cents',
    );
  });
});
