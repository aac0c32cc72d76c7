/** Two tabs that edit different cells in the same instant, for twenty-five rounds. */
import { expect, test } from '../page';
import { race } from '../racing';

test('twenty-five rounds of two tabs in the same instant lose no edit', async ({
  context,
}, info) => {
  test.setTimeout(300_000);
  const { rounds, met } = await race(context, 25);
  const description = `${rounds} rounds, in ${met} of which the writes met; no edit is lost`;
  info.annotations.push({ type: 'races', description });
  console.log(description);
  expect(rounds).toBe(25);
});
