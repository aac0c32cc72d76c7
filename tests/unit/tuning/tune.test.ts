/** Tuning plans on real setups. */
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { readChord } from '$lib/theory/readChord';
import type { Chord } from '$lib/theory/chord';
import { usualAnchor } from '$lib/tuning/anchor';
import { hasSaved, savedAt, withTargets } from '$lib/tuning/targets';
import { tune, type Tuning } from '$lib/tuning/tune';

const chord = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const centsAt = (tuning: Tuning, string: number, control: string | null = null): number => {
  const found = tuning.targets.find(
    (each) => each.string === string && each.control === control && each.state === 'full',
  );
  if (found === undefined) throw new Error(`${string} ${control}`);
  return found.cents;
};
const E9 = builtIn('e9');

describe('equal temperament', () => {
  it('has every target at nought, whatever the reference pitch', () => {
    const tuning = tune({ ...E9, referenceHz: 442 }, 1, { method: 'equal' });
    // 10 strings, 17 pulls and one half-stop
    expect(tuning.targets).toHaveLength(28);
    for (const { cents } of tuning.targets) expect(cents).toBe(0);
    // A4 is the reference itself: string 3 raised by B
    const a4 = tuning.targets.find(({ string, control }) => string === 3 && control === 'B');
    expect(a4?.hz).toBeCloseTo(442, 9);
  });

  it('leaves a major triad 13.7 cents of third and 2 of fifth impure', () => {
    const { uses } = tune(E9, 1, { method: 'equal', chords: [chord('C')] });
    // deviations of root, third and fifth from (0, −13.686, 1.955), less their mean, squared: by hand
    const mean = (13.686 - 1.955) / 3;
    const rms = Math.sqrt((mean ** 2 + (13.686 - mean) ** 2 + (-1.955 - mean) ** 2) / 3);
    for (const { after } of uses.filter(({ use }) => use.strings.length === 3))
      expect(after.residual).toBeCloseTo(rms, 3);
  });
});

describe('a single major triad', () => {
  it.each(['just', 'fitted'] as const)('is pure by %s: exactly 5/4 and 3/2', (method) => {
    const tuning = tune(E9, 1, { method, chords: [chord('E')] });
    for (const { after, use } of tuning.uses) {
      expect(after.residual).toBeLessThan(1e-9);
      expect(after.beatsHz).toBeLessThan(1e-9);
      const root = use.tones.indexOf('1');
      use.tones.forEach((degree, tone) => {
        const ratio = (after.hz[tone] ?? 0) / (after.hz[root] ?? 1);
        const within = ratio / 2 ** Math.floor(Math.log2(ratio) + 1e-9);
        expect(within).toBeCloseTo({ '1': 1, '3': 5 / 4, '5': 3 / 2 }[degree] ?? NaN, 12);
      });
    }
    expect(tuning.residualAfter).toBeLessThan(1e-9);
  });

  it('just puts E9 where the trade knows it: G♯ flat by 14, LKL’s F by 29, A’s C♯ by 16', () => {
    const tuning = tune(E9, 1, { method: 'just', chords: [chord('C')] });
    // by hand: G♯ is 5/4 over E; F is 5/4 over the C♯ that is 5/6 of E, so −15.641 − 13.686
    expect(tuning.anchor).toBe(4);
    expect(centsAt(tuning, 4)).toBeCloseTo(0, 9);
    expect(centsAt(tuning, 8)).toBeCloseTo(0, 9);
    expect(centsAt(tuning, 3)).toBeCloseTo(-13.686, 3);
    expect(centsAt(tuning, 5)).toBeCloseTo(1.955, 3);
    expect(centsAt(tuning, 5, 'A')).toBeCloseTo(-15.641, 3);
    expect(centsAt(tuning, 3, 'B')).toBeCloseTo(-1.955, 3);
    expect(centsAt(tuning, 4, 'LKL')).toBeCloseTo(-15.641 - 13.686, 2);
    // a string that no C chord needs stays where it is
    expect(centsAt(tuning, 9)).toBe(0);
  });
});

describe('sweetened', () => {
  const sweet = tune(E9, 1, { method: 'fitted' });

  it('is purer than equal temperament over the repertoire', () => {
    expect(sweet.residualAfter).toBeLessThan(sweet.residualBefore / 2);
  });

  it('keeps its anchor', () => {
    expect(centsAt(sweet, 4)).toBe(0);
    const onC = tune(E9, 1, { method: 'fitted', anchor: 5 });
    expect(centsAt(onC, 5)).toBe(0);
  });

  it('drawn to equal temperament without end is equal temperament', () => {
    const drawn = tune(E9, 1, { method: 'fitted', strength: Infinity });
    for (const { cents } of drawn.targets) expect(cents).toBe(0);
  });

  it('comes the nearer to equal temperament the more it is drawn, and costs the purity', () => {
    const tunings = [0, 0.1, 1, 10].map((strength) => tune(E9, 1, { method: 'fitted', strength }));
    const away = tunings.map(({ targets }) =>
      Math.sqrt(targets.reduce((sum, { cents }) => sum + cents ** 2, 0)),
    );
    expect([...away].sort((a, b) => b - a)).toEqual(away);
    const residuals = tunings.map(({ residualAfter }) => residualAfter);
    expect([...residuals].sort((a, b) => a - b)).toEqual(residuals);
  });

  it('says which chords a neck cannot play', () => {
    // C6 of six strings has no seventh
    expect(tune(builtIn('lap6-c6'), 1, { method: 'fitted' }).unplayable).toContain('C7');
  });
});

describe('splits', () => {
  it('are those that the body can reach', () => {
    // LKL raises and LKR lowers string 4, and one knee does not go both ways
    const tuning = tune(E9, 1, { method: 'equal' });
    const named = tuning.splits.map(({ engaged }) => engaged.map(({ id }) => id).join('+'));
    expect(named).toContain('C+LKR');
    expect(named).not.toContain('LKL+LKR');
  });
});

describe('cabinet drop', () => {
  const dropped: Setup = {
    ...E9,
    controls: E9.controls.map((control) =>
      control.id === 'A' ? { ...control, drops: [{ neck: 1, string: 4, cents: 6 }] } : control,
    ),
  };

  it('is taken into account: with A the fourth string is 6 cents flat, and the others follow it', () => {
    // one position alone, so that nothing else asks
    const tuning = tune(dropped, 1, { method: 'just', chords: [chord('C')] });
    const ab = tuning.uses.find(
      ({ use }) =>
        use.engaged.map(({ id }) => id).join() === 'A,B' && use.strings.join() === '3,4,5',
    );
    // E is the fifth of A: A lies a pure fourth over an E of −6, at −7.955
    expect(centsAt(tuning, 3, 'B')).toBeCloseTo(-7.955, 3);
    expect(ab?.after.offsets[1]).toBeCloseTo(-6, 9);
    // A with B is the easiest of all that need A, so its third follows: 5/4 over that A, −13.686
    expect(centsAt(tuning, 5, 'A')).toBeCloseTo(-7.955 - 13.686, 3);
    expect(ab?.impure).toBe(false);
    // and before, in equal temperament, the drop was heard too
    expect(ab?.before.offsets).toEqual([0, -6, 0]);
  });

  it('is read and written with the setup', () => {
    expect(withTargets(dropped, [])).toEqual(dropped);
  });
});

describe('anchors', () => {
  it.each([
    ['e9', 4],
    ['c6', 3],
    ['square6-g', 3],
  ] as const)('the usual one of %s is string %i, the root of its chord', (id, string) => {
    const [neck] = builtIn(id).necks;
    expect(neck && usualAnchor(neck)).toBe(string);
  });
});

describe('targets in a setup', () => {
  it('are written, read back as a tuning, and taken out', () => {
    const tuning = tune(E9, 1, { method: 'just', chords: [chord('C')] });
    const written = withTargets(E9, tuning.targets);
    expect(hasSaved(E9)).toBe(false);
    expect(hasSaved(written)).toBe(true);
    const saved = tune(written, 1, { method: 'saved' });
    tuning.targets.forEach(({ cents }, place) => {
      // a file keeps tenths
      expect(saved.targets[place]?.cents).toBeCloseTo(cents, 1);
    });
    const without = withTargets(
      written,
      tuning.targets.map((target) => ({ ...target, cents: undefined })),
    );
    expect(without).toEqual(E9);
  });

  it('keep a half-stop’s apart from the full stop’s', () => {
    const stop = { neck: 1, string: 2, control: 'RKR' } as const;
    const written = withTargets(E9, [
      { ...stop, state: 'half', cents: -3.14 },
      { ...stop, state: 'full', cents: 5 },
    ]);
    expect(savedAt(written, { ...stop, state: 'half' })).toBe(-3.1);
    expect(savedAt(written, { ...stop, state: 'full' })).toBe(5);
    expect(savedAt(written, { neck: 1, string: 2, control: null, state: 'full' })).toBeUndefined();
  });
});

describe('every built-in setup', () => {
  it.each(BUILT_IN_IDS)('%s is tuned, neck by neck, within a quarter tone', (id) => {
    builtIn(id).necks.forEach((_, neck) => {
      for (const method of ['just', 'fitted'] as const)
        for (const { cents } of tune(builtIn(id), neck + 1, { method }).targets)
          expect(Math.abs(cents)).toBeLessThan(50);
    });
  });
});

it('a neck without controls has targets for its strings alone', () => {
  const read = readSetup({
    format: 1,
    name: 'one string',
    necks: [{ name: 'neck', strings: [{ open: 'E4' }] }],
    controls: [],
  });
  if (!read.ok) throw new Error('good');
  expect(tune(read.value, 1, { method: 'fitted' }).targets).toMatchObject([
    { cents: 0, control: null },
  ]);
});
