/** The page's side of the search, with answers that come by messages, as from a worker. */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Asked } from '$lib/answers/question';
import { SearchClient } from '$lib/ui/worker/searchClient';
import { askedOf, poolOf } from './answering';

/** A client, and what was really asked of the engine. */
function searching(): { client: SearchClient; asked: string[] } {
  const asked: string[] = [];
  const pool = poolOf(1, (job, given) => {
    if (job === 'find') asked.push((given[1] as Asked).texts.chord ?? '');
  });
  return { client: new SearchClient(pool), asked };
}

it('the question asked last is not searched for again', async () => {
  const { client, asked } = searching();
  const e9 = builtIn('e9');
  const [once, again] = await Promise.all([
    client.ask(e9, askedOf(e9, { chord: 'C' }), 5),
    client.ask(e9, askedOf(e9, { chord: 'C' }), 5),
  ]);
  const later = await client.ask(e9, askedOf(e9, { chord: 'C' }), 5);
  expect(asked).toEqual(['C']);
  expect(once.ok && once.value.count).toBeGreaterThan(0);
  expect([again, later]).toEqual([once, once]);
});

it('any other question, setup or number of positions is, and so is the first one after it', async () => {
  const { client, asked } = searching();
  const [e9, c6] = [builtIn('e9'), builtIn('c6')];
  await client.ask(e9, askedOf(e9, { chord: 'C' }), 5);
  await client.ask(e9, askedOf(e9, { chord: 'F' }), 5);
  await client.ask(e9, askedOf(e9, { chord: 'C' }), 5);
  await client.ask(c6, askedOf(c6, { chord: 'C' }), 5);
  const few = await client.ask(c6, askedOf(c6, { chord: 'C' }), 1);
  expect(asked).toEqual(['C', 'F', 'C', 'C', 'C']);
  expect(few.ok && few.value.positions).toHaveLength(1);
});

it('an atlas of another setup in between changes nothing of the answer, nor of what follows it', async () => {
  const { client, asked } = searching();
  const [e9, c6] = [builtIn('e9'), builtIn('c6')];
  await client.ask(e9, askedOf(e9, { chord: 'C' }), 5);
  await client.atlas(c6, askedOf(c6, { chord: 'C' }).question, 1);
  await client.ask(e9, askedOf(e9, { chord: 'C' }), 5);
  expect(asked).toEqual(['C']);
  const more = await client.more(5, 5);
  expect(more.ok && more.value).toHaveLength(5);
});

it('a question that failed is asked anew', async () => {
  const pool = poolOf(1, () => {
    if (broken) throw new Error('out of memory');
  });
  const client = new SearchClient(pool);
  let broken = true;
  const failed = await client.ask(builtIn('e9'), askedOf(builtIn('e9'), { chord: 'C' }), 5);
  expect(failed.ok ? '' : failed.error).toContain('out of memory');
  broken = false;
  expect((await client.ask(builtIn('e9'), askedOf(builtIn('e9'), { chord: 'C' }), 5)).ok).toBe(
    true,
  );
});
