/** Explore while an address is still being opened: nothing that the player has typed is lost. */
import { describe, expect, it } from 'vitest';
import { ok } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import type { QuestionTexts } from '$lib/answers/question';
import { Explore } from '$lib/ui/explore/explore.svelte';
import { addressText, readAddress } from '$lib/ui/explore/address';
import { find as search, type Findings } from '$lib/answers/explore';

const NOTHING: Findings = {
  count: 0,
  positionCount: 0,
  positions: [],
  nearest: [],
  searched: { combinations: 0, candidates: 0 },
};

/** A page whose kept setup is found only when it is let. */
function page(answer: typeof search = () => Promise.resolve(NOTHING)) {
  const asked: { setup: Setup; texts: QuestionTexts }[] = [];
  const addresses: string[] = [];
  let found: (setup: Setup | undefined) => void = () => undefined;
  const kept = { ...builtIn('c6'), name: 'Kept on this device' };
  let known = false;
  const explore = new Explore(
    {
      ask: async (setup, question, most) => {
        asked.push({ setup, texts: question.texts });
        return ok(await answer(setup, question, most));
      },
      more: () => Promise.resolve(ok([])),
    },
    {
      get: (id) => (id === 'kept' ? (known ? kept : undefined) : builtIn('e9')),
      find: () => new Promise((done) => (found = done)),
      unknown: (id) => `There is no setup “${id}”.`,
    },
    (address) => addresses.push(addressText(address)),
  );
  return {
    explore,
    asked,
    addresses,
    find: (): void => {
      known = true;
      found(kept);
    },
  };
}

describe('a chord typed while the setup of an address is looked for', () => {
  it('stays, on that setup, and stands in the address', async () => {
    const { explore, asked, addresses, find } = page();
    const opened = explore.open(readAddress(new URLSearchParams('setup=kept&chord=F&frets=0-9')));
    await explore.change({ chord: 'Am7' });
    find();
    await opened;
    expect(explore.texts).toMatchObject({ chord: 'Am7', frets: '0-9' });
    expect(asked.at(-1)).toMatchObject({
      setup: { name: 'Kept on this device' },
      texts: { chord: 'Am7', frets: '0-9' },
    });
    const last = new URLSearchParams(addresses.at(-1));
    expect([last.get('setup'), last.get('chord'), last.get('frets')]).toEqual([
      'kept',
      'Am7',
      '0-9',
    ]);
  });

  it('lays its first row on the table, whatever the address says is held', async () => {
    const { explore, find } = page(search);
    const opened = explore.open(readAddress(new URLSearchParams('setup=kept&chord=F&at=2')));
    await explore.change({ chord: 'Am7' });
    find();
    await opened;
    expect(explore.list.selected).toEqual({ position: 0, row: 0 });
  });

  it('is none of the next address’s business', async () => {
    const { explore, find } = page();
    const first = explore.open(readAddress(new URLSearchParams('setup=kept&chord=F')));
    await explore.change({ chord: 'Am7' });
    const second = explore.open(readAddress(new URLSearchParams('chord=G7')));
    find();
    await Promise.all([first, second]);
    expect(explore.texts.chord).toBe('G7');
  });
});

describe('what hands do while a chord is looked for', () => {
  it('stays as they left it when the answer comes', async () => {
    let answer: () => void = () => undefined;
    const slowly: typeof search = (...asked) =>
      new Promise((done) => (answer = () => void search(...asked).then(done)));
    const { explore } = page(slowly);
    const changed = explore.change({ chord: 'Am7' });
    explore.moveBar(5);
    explore.press('A');
    answer();
    await changed;
    expect(explore.found?.symbol).toBe('Am7');
    expect(explore.hold).toMatchObject({ fret: 5, engaged: [{ id: 'A', state: 'full' }] });
  });
});

describe('what an address asks, while its page is still being put together', () => {
  const foreseen = (address: string): { setup: Setup; texts: QuestionTexts }[] => {
    const { explore, asked } = page();
    explore.foresee(readAddress(new URLSearchParams(address)));
    expect(explore.texts).toEqual({ chord: 'C' });
    return asked;
  };

  it('is asked for at once, and nothing of the page changes yet', () => {
    expect(foreseen('chord=Gm7&frets=3-6').map(({ texts }) => texts)).toEqual([
      { chord: 'Gm7', frets: '3-6' },
    ]);
  });

  it('waits where it has a fault, or its setup has to be looked for', () => {
    expect(foreseen('chord=H♯')).toEqual([]);
    expect(foreseen('setup=kept&chord=F')).toEqual([]);
  });
});
