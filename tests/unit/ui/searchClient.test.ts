/** The page's side of the search, with a desk that is reached by messages as a worker is. */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { QuestionTexts } from '$lib/answers/question';
import { SearchClient } from '$lib/ui/explore/searchClient';
import { SearchDesk, type Findings } from '$lib/ui/explore/searchDesk';
import { messageWorker } from './messageWorker';

/** A client, and how often its desk was at work. */
function searching(): { client: SearchClient; asked: string[] } {
  const asked: string[] = [];
  class CountingDesk extends SearchDesk {
    override ask(texts: QuestionTexts, most: number): Findings {
      asked.push(texts.chord ?? '');
      return super.ask(texts, most);
    }
  }
  const client = new SearchClient(() => messageWorker(new CountingDesk()));
  return { client, asked };
}

it('the question asked last is not searched for again', async () => {
  const { client, asked } = searching();
  const e9 = builtIn('e9');
  const [once, again] = await Promise.all([
    client.ask(e9, { chord: 'C' }, 5),
    client.ask(e9, { chord: 'C' }, 5),
  ]);
  const later = await client.ask(e9, { chord: 'C' }, 5);
  expect(asked).toEqual(['C']);
  expect(once.ok && once.value.count).toBeGreaterThan(0);
  expect([again, later]).toEqual([once, once]);
  client.dispose();
});

it('any other question, setup or number of positions is, and so is the first one after it', async () => {
  const { client, asked } = searching();
  const [e9, c6] = [builtIn('e9'), builtIn('c6')];
  await client.ask(e9, { chord: 'C' }, 5);
  await client.ask(e9, { chord: 'F' }, 5);
  await client.ask(e9, { chord: 'C' }, 5);
  await client.ask(c6, { chord: 'C' }, 5);
  const few = await client.ask(c6, { chord: 'C' }, 1);
  expect(asked).toEqual(['C', 'F', 'C', 'C', 'C']);
  expect(few.ok && few.value.positions).toHaveLength(1);
  client.dispose();
});

it('an atlas of another setup in between takes the answer off the desk, so it is searched again', async () => {
  const { client, asked } = searching();
  const [e9, c6] = [builtIn('e9'), builtIn('c6')];
  await client.ask(e9, { chord: 'C' }, 5);
  await client.atlas(c6, { chord: 'C' }, 1);
  await client.ask(e9, { chord: 'C' }, 5);
  expect(asked).toEqual(['C', 'C']);
  const more = await client.more(5, 5);
  expect(more.ok && more.value).toHaveLength(5);
  client.dispose();
});
