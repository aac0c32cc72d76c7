/** What edits do is counted of the newest setup only, each setup once, and before as well as after. */
import { describe, expect, it, vi } from 'vitest';
import { ok, refuse, type Result } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { setPull } from '$lib/setup/edits/pulls';
import type { TypeCount } from '$lib/coverage/typeShapes';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { Consequences } from '$lib/ui/bench/consequences.svelte';
import { counting } from './answering';

const total = (consequences: Consequences, of: 'before' | 'after'): number =>
  consequences.rows.reduce((sum, row) => sum + row[of], 0);

function pulled(setup: Setup, text: string): Setup {
  const next = setPull(setup, { id: 'LKV', neck: 1, string: 5 }, text);
  if (!next.ok) throw new Error(next.error);
  return next.value;
}

describe('a pull that goes and comes back', () => {
  it('takes voicings of everyday chords, and gives them back', async () => {
    const e9 = builtIn('e9');
    const consequences = new Consequences(counting());
    await consequences.compare(e9, e9);
    expect(consequences.rows.map(({ type }) => type)).toEqual(
      EVERYDAY_REPERTOIRE.map(({ type }) => type),
    );
    const whole = total(consequences, 'after');
    expect(total(consequences, 'before')).toBe(whole);
    expect(consequences.busy).toBe(false);

    const without = pulled(e9, '');
    await consequences.compare(e9, without);
    const less = total(consequences, 'after');
    expect(total(consequences, 'before')).toBe(whole);
    expect(less).toBeLessThan(whole);

    await consequences.compare(without, pulled(without, '-1'));
    expect(total(consequences, 'before')).toBe(less);
    expect(total(consequences, 'after')).toBe(whole);
  });
});

describe('counts that take their time', () => {
  /** Setups by name, and a count of each that comes when it is let. */
  function slow() {
    const asked: string[] = [];
    const waiting: ((tally: Result<readonly TypeCount[], string>) => void)[] = [];
    const consequences = new Consequences(({ name }) => {
      asked.push(name);
      return new Promise((done) => waiting.push(done));
    });
    const named = (name: string): Setup => ({ ...builtIn('lap6-c6'), name });
    const come = async (tally: Result<readonly TypeCount[], string>): Promise<void> => {
      await vi.waitFor(() => expect(waiting).not.toEqual([]));
      waiting.shift()?.(tally);
      await new Promise((done) => setTimeout(done));
    };
    const answer = (voicings: number): Promise<void> => come(ok([{ type: '', voicings }]));
    const fail = (why: string): Promise<void> => come(refuse(why));
    return { consequences, asked, named, answer, fail };
  }

  it('while one is on its way only the newest setup waits', async () => {
    const { consequences, asked, named, answer } = slow();
    const [a, b, c, d] = [named('a'), named('b'), named('c'), named('d')];
    const compared = consequences.compare(a, b);
    void consequences.compare(b, c);
    void consequences.compare(c, d);
    expect(asked).toEqual(['a']);
    expect(consequences.busy).toBe(true);
    await answer(10);
    await answer(20);
    // b and what it became are nobody's any more; of c and d nothing is known yet
    expect(consequences.rows).toEqual([]);
    expect(consequences.busy).toBe(true);
    await answer(30);
    await answer(40);
    await compared;
    expect(asked).toEqual(['a', 'b', 'c', 'd']);
    expect(consequences.rows).toEqual([{ type: '', before: 30, after: 40 }]);
    expect(consequences.busy).toBe(false);
  });

  it('a setup that was counted is not counted again', async () => {
    const { consequences, asked, named, answer } = slow();
    const [a, b] = [named('a'), named('b')];
    const first = consequences.compare(a, b);
    await answer(10);
    await answer(20);
    await first;
    await consequences.compare(b, a);
    expect(asked).toEqual(['a', 'b']);
    expect(consequences.rows).toEqual([{ type: '', before: 20, after: 10 }]);
  });

  it('one that fails is told, what was counted stays, and the next one is counted', async () => {
    const { consequences, asked, named, answer, fail } = slow();
    const [a, b, c] = [named('a'), named('b'), named('c')];
    const first = consequences.compare(a, b);
    await answer(10);
    await answer(20);
    await first;
    const second = consequences.compare(b, c);
    await fail('It stopped.');
    await second;
    expect(consequences.failure).toBe('It stopped.');
    expect(consequences.busy).toBe(false);
    expect(consequences.rows).toEqual([{ type: '', before: 10, after: 20 }]);
    const again = consequences.compare(b, c);
    await answer(30);
    await again;
    expect(asked).toEqual(['a', 'b', 'c', 'c']);
    expect(consequences.failure).toBeUndefined();
    expect(consequences.rows).toEqual([{ type: '', before: 20, after: 30 }]);
  });

  it('one that fails for the setup as it was is told too, and is forgotten when all are known', async () => {
    const { consequences, named, answer, fail } = slow();
    const [a, b, c] = [named('a'), named('b'), named('c')];
    const first = consequences.compare(a, b);
    await answer(10);
    await answer(20);
    await first;
    const second = consequences.compare(c, a);
    await fail('It stopped.');
    await second;
    expect(consequences.failure).toBe('It stopped.');
    const third = consequences.compare(c, named('d'));
    await fail('It stopped.');
    await answer(40);
    await third;
    expect(consequences.failure).toBe('It stopped.');
    expect(consequences.rows).toEqual([{ type: '', before: 10, after: 20 }]);
    await consequences.compare(b, a);
    expect(consequences.failure).toBeUndefined();
    expect(consequences.rows).toEqual([{ type: '', before: 20, after: 10 }]);
  });
});
