import { beforeEach, describe, expect, it } from 'vitest';
import type { Store } from '$lib/storage/store';
import { freshBrowser, makeIn, openIn, said, tab } from './tabs';

let store: Store;
beforeEach(async () => {
  freshBrowser();
  store = tab();
  await makeIn(store, 'a', 'one');
});

describe('an open document', () => {
  it('keeps every edit as it is made', async () => {
    const document = await openIn(store, 'a');
    document.edit(['one', 'two'], 'two');
    expect(document.state.saved).toBe(false);
    await document.settled();
    expect(document.state.saved).toBe(true);
    expect(said(await openIn(tab(), 'a'))).toBe('one two');
  });

  it('goes all the way back and forth again, after a reload too', async () => {
    const first = await openIn(store, 'a');
    for (const text of ['two', 'three', 'four']) first.edit(['one', text], text);
    await first.settled();
    const document = await openIn(tab(), 'a');
    const seen = [said(document)];
    while (document.state.undoes !== undefined) {
      document.undo();
      seen.push(said(document));
    }
    expect(seen).toEqual(['one four', 'one three', 'one two', 'one']);
    await document.settled();

    const again = await openIn(tab(), 'a');
    expect(said(again)).toBe('one');
    expect(again.state.redoes).toBe('two');
    const forth = [said(again)];
    while (again.state.redoes !== undefined) {
      again.redo();
      forth.push(said(again));
    }
    expect(forth).toEqual(['one', 'one two', 'one three', 'one four']);
  });

  it('says what Undo takes back and Redo brings', async () => {
    const document = await openIn(store, 'a');
    document.edit(['x'], 'to x');
    document.edit(['y'], 'to y');
    expect([document.state.undoes, document.state.redoes]).toEqual(['to y', undefined]);
    document.undo();
    expect([document.state.undoes, document.state.redoes]).toEqual(['to x', 'to y']);
  });

  it('goes forth on the branch that was made last', async () => {
    const document = await openIn(store, 'a');
    document.edit(['x'], 'x');
    document.undo();
    document.edit(['y'], 'y');
    document.undo();
    document.redo();
    expect(said(document)).toBe('y');
  });

  it('takes typing as one step, until a pause or another label', async () => {
    let clock = 1000;
    const document = await openIn(store, 'a', () => clock);
    document.edit(['frets'], 'frets');
    for (const text of ['n', 'no', 'not']) {
      clock += 100;
      document.edit([text], 'notes', true);
    }
    clock += 5000;
    document.edit(['note'], 'notes', true);
    const seen = [said(document)];
    while (document.state.undoes !== undefined) {
      document.undo();
      seen.push(said(document));
    }
    expect(seen).toEqual(['note', 'not', 'frets', 'one']);
  });

  it('takes no edit that its own reader would refuse, and says why', async () => {
    const document = await openIn(store, 'a');
    expect(document.edit(['bad'], 'bad')).toHaveLength(1);
    expect(said(document)).toBe('one');
    expect(document.edit(['one'], 'nothing new')).toEqual([]);
    expect(document.state.undoes).toBeUndefined();
  });

  it('brings a named version back, even from a branch that Undo has left', async () => {
    const document = await openIn(store, 'a');
    document.edit(['lever'], 'lever');
    document.saveVersion('before the new lever');
    document.undo();
    document.edit(['other'], 'other');
    await document.settled();

    const again = await openIn(tab(), 'a');
    const [version] = again.state.versions;
    expect(version?.name).toBe('before the new lever');
    again.restore(version?.step ?? 0, version?.name ?? '');
    expect(said(again)).toBe('lever');
    again.undo();
    expect(said(again)).toBe('other');
  });
});

describe('two tabs with one document', () => {
  it('see one another’s edits as they are made', async () => {
    const [here, there] = [await openIn(tab(), 'a'), await openIn(tab(), 'a')];
    const told = new Promise((done) => (there.onchange = done));
    here.edit(['one', 'two'], 'string 5 to C♯');
    await told;
    await there.settled();
    expect(said(there)).toBe('one two');
    expect(there.state.notice).toContain('string 5 to C♯');
    there.undo();
    expect(said(there)).toBe('one');
  });

  it('that change it at the same moment lose nothing, and are told', async () => {
    const [here, there] = [
      await openIn(tab({ deaf: true }), 'a'),
      await openIn(tab({ deaf: true }), 'a'),
    ];
    here.edit(['here'], 'done here');
    await here.settled();
    there.edit(['there'], 'done there');
    there.edit(['there', 'too'], 'more there');
    there.saveVersion('kept by name');
    await there.settled();
    expect(there.state.asks?.label).toBe('done here');
    expect(there.state.problem).toBeUndefined();

    const later = await openIn(tab(), 'a');
    const seen = [said(later)];
    while (later.state.undoes !== undefined) {
      later.undo();
      seen.push(said(later));
    }
    expect(seen).toEqual(['there too', 'there', 'here', 'one']);
    expect(later.state.versions.map(({ name }) => name)).toEqual([
      'kept by name',
      'another tab: done here',
      'one tab: more there',
    ]);
    const back = later.state.versions.map(({ step, name }) => {
      later.restore(step, name);
      return said(later);
    });
    expect(back).toEqual(['there too', 'here', 'there too']);
  });

  describe('that change the same place are asked which is to stand', () => {
    const inConflict = async () => {
      const here = await openIn(tab({ deaf: true }), 'a');
      const there = await openIn(tab({ deaf: true }), 'a');
      here.edit(['here'], 'done here');
      await here.settled();
      there.edit(['there'], 'done there');
      await there.settled();
      return { here, there };
    };

    it('only the one that was later, and not before they do', async () => {
      const { here, there } = await inConflict();
      expect(here.state.asks).toBeUndefined();
      expect(there.state.asks).toEqual({ label: 'done here', places: [] });
      expect(said(there)).toBe('there');
      expect((await openIn(tab(), 'a')).state.asks).toBeUndefined();
    });

    it('keeping this one changes nothing more', async () => {
      const { there } = await inConflict();
      there.settle('mine');
      await there.settled();
      expect(there.state.asks).toBeUndefined();
      const later = await openIn(tab(), 'a');
      expect(said(later)).toBe('there');
      later.undo();
      expect(said(later)).toBe('here');
    });

    it('the other one is taken with one step, and Undo brings this one again', async () => {
      const { there } = await inConflict();
      there.settle('theirs');
      expect(said(there)).toBe('here');
      expect(there.state.asks).toBeUndefined();
      expect(there.state.undoes).toBe('as the other tab has it (done here)');
      await there.settled();
      const later = await openIn(tab(), 'a');
      expect(said(later)).toBe('here');
      later.undo();
      expect(said(later)).toBe('there');
      expect(later.state.versions.map(({ name }) => name)).toEqual([
        'another tab: done here',
        'one tab: done there',
      ]);
    });

    it('what another tab does before the answer does not take this one away', async () => {
      const { here, there } = await inConflict();
      await here.tryAgain();
      here.edit(['here', 'again'], 'more here');
      await here.settled();
      await there.tryAgain();
      expect(said(there)).toBe('here again');
      there.settle('mine');
      expect(said(there)).toBe('there');
      there.undo();
      expect(said(there)).toBe('here again');
    });

    it('Undo is an answer too', async () => {
      const { there } = await inConflict();
      there.undo();
      expect(said(there)).toBe('here');
      expect(there.state.asks).toBeUndefined();
    });

    it('a question that is answered twice is answered once', async () => {
      const { there } = await inConflict();
      there.settle('mine');
      there.settle('theirs');
      expect(said(there)).toBe('there');
    });
  });

  it('do not undo what the other has changed since', async () => {
    const here = await openIn(tab({ deaf: true }), 'a');
    here.edit(['here'], 'done here');
    await here.settled();
    const there = await openIn(tab({ deaf: true }), 'a');
    here.edit(['here', 'again'], 'more here');
    await here.settled();
    there.undo();
    await there.settled();
    expect(said(there)).toBe('here again');
    expect(there.state.notice).toContain('more here');
  });

  it('keep what one works on while the other deletes it for good', async () => {
    const here = await openIn(tab({ deaf: true }), 'a');
    here.edit(['here'], 'done here');
    await here.settled();
    await tab({ deaf: true }).remove('a');
    here.edit(['here', 'still'], 'more');
    await here.settled();
    expect(here.state.saved).toBe(true);
    const later = await openIn(tab(), 'a');
    expect(said(later)).toBe('here still');
    later.undo();
    later.undo();
    expect(said(later)).toBe('one');
  });
});
