/** The tuning that a page shows: made anew for a setup and a plan, the last one staying meanwhile. */
import { describe, expect, it } from 'vitest';
import { ok, refuse, type Result } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { tune, type Plan, type Tuning } from '$lib/tuning/tune';
import { USUAL_PLAN, type PlanTexts } from '$lib/ui/tuning/planTexts';
import { takeOver } from '$lib/ui/tuning/writeTargets';
import { leadText } from '$lib/ui/tuning/targetWords';
import { Tuned } from '$lib/ui/tuning/tuned.svelte';
import { tuning } from './answering';

const E9 = builtIn('e9');

interface Asked {
  readonly neck: number;
  readonly plan: Plan;
  readonly answer: (made: Result<Tuning, string>) => void;
}
/** The state, and what it asks, to be answered when the test lets it. */
function slow(): { tuned: Tuned; asked: Asked[] } {
  const asked: Asked[] = [];
  const tuned = new Tuned(
    (_, neck, plan) => new Promise((answer) => asked.push({ neck, plan, answer })),
  );
  return { tuned, asked };
}
const texts = (some: Partial<PlanTexts>): PlanTexts => ({ ...USUAL_PLAN, ...some });
const soon = (): Promise<void> => new Promise((then) => setTimeout(then));
/** A tuning that is known by its anchor. */
const named = (anchor: number): Result<Tuning, string> => ok({ anchor } as Tuning);

describe('a tuning', () => {
  it('is made of the whole setup: equal temperament is off by nothing', async () => {
    const tuned = new Tuned(tuning());
    tuned.texts = texts({ method: 'equal' });
    await tuned.make(E9);
    expect(tuned.busy).toBe(false);
    expect(tuned.fault).toBeUndefined();
    expect(tuned.tuning?.neck).toBe(1);
    expect(new Set(tuned.tuning?.offsets)).toEqual(new Set([0]));
    expect(tuned.against).toBeUndefined();
  });

  it('stands beside another one, when that is asked', async () => {
    const tuned = new Tuned(tuning());
    tuned.texts = texts({ method: 'fitted', against: 'equal', chords: 'E A' });
    await tuned.make(E9);
    // chords that are tuned for are purer than in equal temperament
    expect(tuned.tuning?.residualAfter).toBeLessThan(tuned.tuning?.residualBefore ?? 0);
    expect(new Set(tuned.against?.offsets)).toEqual(new Set([0]));
    tuned.texts = texts({ method: 'fitted', chords: 'E A' });
    await tuned.make(E9);
    expect(tuned.against).toBeUndefined();
  });

  it('is of the neck that is asked for, as far as the setup has it', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ neck: '2' });
    void tuned.make(builtIn('double'));
    void tuned.make(E9);
    await soon();
    expect(asked.map(({ neck }) => neck)).toEqual([2, 1]);
  });

  it('keeps the anchor that is a string of the neck, and no other', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ anchor: '9' });
    void tuned.make(E9);
    // six strings have no ninth
    void tuned.make(builtIn('lap6-c6'));
    await soon();
    expect(asked.map(({ plan }) => plan.anchor)).toEqual([9, undefined]);
  });

  it('is made for chords, sevenths and a strength as they are written', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ chords: 'E | A7 N.C.', seventh: '7/4', strength: 'inf' });
    void tuned.make(E9);
    await soon();
    expect(asked[0]?.plan).toMatchObject({ method: 'fitted', seventh: '7/4', strength: Infinity });
    expect(asked[0]?.plan.chords?.map(({ symbol }) => symbol)).toEqual(['E', 'A7']);
  });
});

describe('a target that no chord decides', () => {
  const lkv = { neck: 1, string: 5, control: 'LKV', state: 'full' } as const;
  const cents = (tuned: Tuned): number | undefined =>
    tuned.tuning?.targets.find(({ string, control }) => string === 5 && control === 'LKV')?.cents;

  it('is chosen, kept for the next plan, and given up', async () => {
    const tuned = new Tuned(tuning());
    tuned.texts = texts({ method: 'just', chords: 'C' });
    expect(tuned.choose(lkv, '−7,5')).toBeUndefined();
    await tuned.make(E9);
    expect(cents(tuned)).toBe(-7.5);
    expect(tuned.choose(lkv, '4')).toBeUndefined();
    await tuned.make(E9);
    expect(cents(tuned)).toBe(4);
    expect(tuned.choose(lkv, '')).toBeUndefined();
    await tuned.make(E9);
    expect(cents(tuned)).toBe(0);
  });

  it('is refused with a sentence where it is none, and the choice before stays', () => {
    const tuned = new Tuned(tuning());
    tuned.choose(lkv, '3');
    expect(tuned.choose(lkv, 'low')).toBe('“low” is no number.');
    expect(tuned.choose(lkv, '101')).toContain('−100 to 100');
    expect(tuned.chosen).toEqual([{ ...lkv, cents: 3 }]);
  });

  it('is not written into the setup where it was left at equal temperament', async () => {
    const tuned = new Tuned(tuning());
    tuned.texts = texts({ method: 'just', chords: 'C' });
    await tuned.make(E9);
    if (tuned.tuning === undefined) throw new Error('a tuning');
    const taken = takeOver(E9, tuned.tuning);
    if (!taken.ok) throw new Error(taken.error);
    const pulls = (id: string) => taken.value.controls.find((each) => each.id === id)?.pulls;
    expect(pulls('LKV')?.map((pull) => pull.cents)).toEqual([undefined, undefined]);
    // C♯ is a just minor third under E: −15.641
    expect(pulls('A')?.map((pull) => pull.cents)).toEqual([-15.6, -15.6]);
  });
});

describe('meanwhile', () => {
  it('the last one stays, and an answer to an older question is nobody’s', async () => {
    const { tuned, asked } = slow();
    const first = tuned.make(E9);
    asked[0]?.answer(named(1));
    await first;
    expect(tuned.tuning?.anchor).toBe(1);
    const second = tuned.make(E9);
    const third = tuned.make(E9);
    expect([tuned.busy, tuned.tuning?.anchor]).toEqual([true, 1]);
    asked[2]?.answer(named(3));
    await third;
    expect([tuned.busy, tuned.tuning?.anchor]).toEqual([false, 3]);
    asked[1]?.answer(named(2));
    await second;
    expect(tuned.tuning?.anchor).toBe(3);
  });

  it('chords that become unreadable end the wait for those before', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ chords: 'E' });
    const first = tuned.make(E9);
    tuned.texts = texts({ chords: 'Eq' });
    await tuned.make(E9);
    expect(tuned.busy).toBe(false);
    asked[0]?.answer(named(1));
    await first;
    expect([tuned.busy, tuned.tuning]).toEqual([false, undefined]);
    expect(tuned.fault).toContain('is not understood');
  });

  it('the one beside it that cannot be made is told', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ against: 'equal' });
    const made = tuned.make(E9);
    asked[0]?.answer(named(1));
    await soon();
    asked[1]?.answer(refuse('The search stopped.'));
    await made;
    expect([tuned.tuning?.anchor, tuned.against]).toEqual([1, undefined]);
    expect(tuned.fault).toBe('The search stopped.');
  });

  it('what cannot be made is told, and the last one stays', async () => {
    const { tuned, asked } = slow();
    const first = tuned.make(E9);
    asked[0]?.answer(named(1));
    await first;
    const second = tuned.make(E9);
    asked[1]?.answer(refuse('The search stopped.'));
    await second;
    expect([tuned.fault, tuned.busy, tuned.tuning?.anchor]).toEqual([
      'The search stopped.',
      false,
      1,
    ]);
  });

  it('chords that cannot be read are told, nothing is asked, and the next plan is made', async () => {
    const { tuned, asked } = slow();
    tuned.texts = texts({ chords: 'E Hm' });
    await tuned.make(E9);
    expect(tuned.fault).toContain('“Hm” at place 1 is not understood');
    expect(asked).toEqual([]);
    tuned.texts = texts({ chords: 'E' });
    const made = tuned.make(E9);
    asked[0]?.answer(named(1));
    await made;
    expect(tuned.fault).toBeUndefined();
  });
});

describe('a step of the tuner', () => {
  it('leads with the string and what is engaged, then the note', () => {
    const { targets } = tune(E9, 1, { method: 'equal' });
    const led = targets.map((target) => leadText(E9, target));
    // pulls of the trade: A raises string 5 from B to C♯, RKR lowers string 2 to D and on to C♯
    expect(led).toEqual(
      expect.arrayContaining(['5 → B3', '5 + A → C♯4', '2 + RKR½ → D4', '2 + RKR → C♯4']),
    );
  });
});
