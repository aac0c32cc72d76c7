/** Practice as its page has it: rounds, what is kept of them, other tabs, a device that takes nothing. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { ask } from '$lib/answers/door';
import { cardId } from '$lib/practice/cards';
import { courseOf } from '$lib/practice/course';
import { practiceText } from '$lib/practice/record';
import { ok, refuse } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { newBrowser } from './tabs';

beforeEach(newBrowser);

const SETUP = builtIn('lap6-c6');
const COURSE = courseOf(SETUP);
const FIRST = cardId('find', COURSE[0]?.id ?? '');
/** A Monday evening. */
const EVENING = Date.UTC(2026, 2, 2, 18);

/** A tab with Practice open: the program loaded once more, over the same device. */
async function tab(fails = false) {
  vi.resetModules();
  const { PracticePlace } = await import('$lib/ui/practice/practice.svelte');
  const { PracticeFiles } = await import('$lib/ui/practice/files.svelte');
  const { savedPractice } = await import('$lib/ui/practice/keeping.svelte');
  const clock = {
    at: EVENING,
    now: () => clock.at,
    dayBegan: (now: number) => now - (now % 86_400_000),
  };
  const pool = {
    fails,
    ask: async (...[job, ...given]: [never, ...never[]]) =>
      pool.fails ? refuse('The search stopped.') : ok(await ask(job, given as never)),
  };
  const setups = {
    find: (id: string) => Promise.resolve(id === 'lap6-c6' ? SETUP : undefined),
    unknown: (id: string) => `There is no setup “${id}”.`,
  };
  const place = new PracticePlace(pool as never, setups as never, clock);
  await place.open('lap6-c6');
  return { place, clock, pool, all: savedPractice(), files: new PracticeFiles(place) };
}
type Tab = Awaited<ReturnType<typeof tab>>;

/** Answers the card that is asked as the course has it. */
function layDown({ place: { round } }: Tab): void {
  const task = round?.task;
  if (round === undefined || task === undefined) throw new Error('nothing is asked');
  if (task.kind === 'name' || task.kind === 'hear') round.choose(task.right);
  else {
    const { hold } = task;
    round.moveBar(hold.fret);
    for (const string of hold.strings)
      if (round.hold?.strings.includes(string) === false) round.pick(string);
    for (const string of round.hold?.strings ?? [])
      if (!hold.strings.includes(string)) round.pick(string);
    for (const { id } of hold.engaged) round.press(id);
    round.slant(hold.slant);
    round.check();
  }
}

/** Plays a round to its end, each card in some seconds. */
async function through(here: Tab, seconds = 8): Promise<string[]> {
  const asked: string[] = [];
  await here.place.begin();
  const { round } = here.place;
  while (round?.card !== undefined) {
    asked.push(round.card.id);
    here.clock.at += seconds * 1000;
    layDown(here);
    await settled(here);
    expect(round.ended).toBe('right');
    await round.next();
  }
  return asked;
}
const settled = async ({ place }: Tab): Promise<void> => {
  await vi.waitFor(() => expect(place.keeping.document).toBeDefined());
  await place.keeping.document?.settled();
};

describe('a round', () => {
  it('asks the new cards of the day, is over when they are known, and begins tomorrow with what is due', async () => {
    const here = await tab();
    expect([here.place.ready, here.place.isFirst]).toEqual([true, true]);
    const asked = await through(here);
    expect(asked).toHaveLength(12);
    expect(asked[0]).toBe(FIRST);
    expect(here.place.round).toMatchObject({ over: true, through: 12, right: 12 });
    here.place.leave();
    expect(here.place.today.due.length + here.place.today.fresh.length).toBe(0);
    here.clock.at += 86_400_000;
    here.place.leave();
    expect(here.place.today.due).toHaveLength(12);
    expect(here.place.today.fresh).toHaveLength(12);
    const again = await through(here);
    expect(new Set(again.slice(0, 12))).toEqual(new Set(asked));
  });

  it('ends after ten minutes, whatever is left', async () => {
    const here = await tab();
    const asked = await through(here, 121);
    expect(asked).toHaveLength(5);
    expect(here.place.round?.over).toBe(true);
  });

  it('gives as many new cards again where a player wants more', async () => {
    const here = await tab();
    await through(here);
    here.place.leave();
    here.clock.at += 3_600_000;
    // an hour later those of before are due
    const due = here.place;
    due.leave();
    await through(here);
    here.place.leave();
    expect(here.place.today.fresh).toHaveLength(0);
    expect(await through(here)).not.toHaveLength(0);
  });

  it('tells what is wrong and lets a player try again; what is shown comes again in a minute', async () => {
    const here = await tab();
    await here.place.begin();
    const { round } = here.place;
    if (round?.task?.kind !== 'find') throw new Error('no card to find');
    round.check();
    expect(round.told).toBe('No string is picked yet.');
    round.moveBar(round.task.hold.fret + 1);
    for (const string of round.task.hold.strings) round.pick(string);
    round.check();
    expect(round.told).toMatch(/^That is [A-G]\S*, not /);
    round.moveBar(round.task.hold.fret);
    round.check();
    expect(round.told).toBe('Right.');
    await settled(here);
    // found at the second try, after seven seconds at most
    expect(here.place.keeping.answers.get(FIRST)?.map(({ grade }) => grade)).toEqual(['hard']);
    await round.next();
    const second = round.card?.id ?? '';
    round.show();
    await settled(here);
    expect(round.told).toMatch(/fret|open/);
    expect(here.place.keeping.answers.get(second)?.map(({ grade }) => grade)).toEqual(['again']);
    expect(round).toMatchObject({ through: 2, right: 1 });
    // nothing moves once the answer is there
    const shown = round.hold;
    round.moveBar(9);
    expect(round.hold).toBe(shown);
  });

  it('takes the last answer back, and asks its card once more', async () => {
    const here = await tab();
    await here.place.begin();
    const { round } = here.place;
    layDown(here);
    await settled(here);
    await round?.next();
    expect(round?.card?.id).not.toBe(FIRST);
    await round?.undo();
    expect(round?.card?.id).toBe(FIRST);
    expect(round).toMatchObject({ through: 0, right: 0, ended: undefined });
    expect(here.place.keeping.answers.size).toBe(0);
  });
});

describe('what was practised', () => {
  it('is there at the next visit, and Undo takes a whole round back', async () => {
    const here = await tab();
    await through(here);
    here.clock.at += 86_400_000;
    await through(here);
    await settled(here);
    const before = here.place.keeping.answers;
    const later = await tab();
    expect(later.place.keeping.answers).toEqual(before);
    expect(later.place.isFirst).toBe(false);
    expect(later.all.stored.map(({ name }) => name)).toEqual([SETUP.name]);
    const { document } = later.place.keeping;
    expect(document?.undoes).toMatch(/^round of /);
    document?.undo();
    expect(later.place.keeping.answers.size).toBe(12);
    document?.undo();
    expect(later.place.keeping.answers.size).toBe(0);
    document?.redo();
    expect(later.place.keeping.answers.size).toBe(12);
  });

  it('in two tabs at once is all kept', async () => {
    const one = await tab();
    await one.place.begin();
    layDown(one);
    await settled(one);
    const two = await tab();
    await two.place.begin();
    await one.place.round?.next();
    layDown(one);
    await settled(one);
    two.clock.at += 30_000;
    layDown(two);
    await settled(two);
    const third = await tab();
    expect([...third.place.keeping.answers.values()].flat()).toHaveLength(3);
  });

  it('goes as a file to another device, and adds to what is there', async () => {
    const here = await tab();
    await through(here);
    await settled(here);
    const { document } = here.place.keeping;
    if (document === undefined) throw new Error('nothing is kept');
    const file = new File([practiceText(document.value)], 'practice.json');
    newBrowser();
    const there = await tab();
    there.clock.at += 1_000_000;
    await there.place.begin();
    layDown(there);
    await settled(there);
    await there.files.open([file]);
    expect(there.files.told).toBe('12 answers of practice.json added.');
    expect([...there.place.keeping.answers.values()].flat()).toHaveLength(13);
    await there.files.open([file]);
    expect(there.files.told).toBe('All answers of practice.json are here already.');
    await there.files.open([new File(['[]'], 'other.json')]);
    expect(there.files.told).toMatch(/^other\.json was not opened: .+ Nothing was changed\.$/);
    expect([...there.place.keeping.answers.values()].flat()).toHaveLength(13);
    // the whole came as one step
    there.place.keeping.document?.undo();
    expect([...there.place.keeping.answers.values()].flat()).toHaveLength(1);
  });

  it('counts on in this tab where the device takes nothing, which is told', async () => {
    const here = await tab();
    const { DatabaseDisk } = await import('$lib/storage/database');
    const full = vi.spyOn(DatabaseDisk.prototype, 'write').mockImplementation(() => {
      throw new DOMException('no room', 'QuotaExceededError');
    });
    await here.place.begin();
    layDown(here);
    await vi.waitFor(() => expect(here.place.keeping.trouble).toBeDefined());
    expect(here.place.keeping.answers.size).toBe(1);
    full.mockRestore();
    await here.all.tryAgain();
    await vi.waitFor(() => expect(here.place.keeping.trouble).toBeUndefined());
    expect((await tab()).place.keeping.answers.size).toBe(1);
  });
});

describe('a place that cannot have what it needs', () => {
  it('says so, and tries again', async () => {
    const here = await tab(true);
    expect(here.place.failure).toBe('The search stopped.');
    expect(here.place.ready).toBe(false);
    here.pool.fails = false;
    await here.place.tryAgain();
    expect(here.place.ready).toBe(true);
    await here.place.open('kept-gone');
    expect(here.place.lost).toBe('There is no setup “kept-gone”.');
    expect(here.place.setupId).toBe('e9');
  });
});
