/**
 * One stop of Tab for a list of many, and the arrow keys within it: the item a key leads to, from 0, or
 * `undefined` where the key means nothing here.
 */
export function itemByKey(
  key: string,
  now: number,
  count: number,
  along: 'down' | 'across',
): number | undefined {
  const last = count - 1;
  const [back, on] =
    along === 'down' ? (['ArrowUp', 'ArrowDown'] as const) : (['ArrowLeft', 'ArrowRight'] as const);
  const to = { [back]: now - 1, [on]: now + 1, Home: 0, End: last }[key];
  return to === undefined ? undefined : Math.min(last, Math.max(0, to));
}
