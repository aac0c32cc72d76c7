/** Which candidates of a layer lie at which position. */

/** By position: its candidates, ascending. They lie one behind another in one column. */
export function membersOf(position: Uint16Array, positions: number): Int32Array[] {
  const from = new Uint32Array(positions + 1);
  for (const each of position) from[each + 1] = (from[each + 1] as number) + 1;
  for (let at = 0; at < positions; at++)
    from[at + 1] = (from[at + 1] as number) + (from[at] as number);
  const all = new Int32Array(position.length);
  const free = from.slice();
  for (let candidate = 0; candidate < position.length; candidate++) {
    const own = position[candidate] as number;
    const at = free[own] as number;
    all[at] = candidate;
    free[own] = at + 1;
  }
  const members: Int32Array[] = [];
  for (let at = 0; at < positions; at++) members.push(all.slice(from[at], from[at + 1]));
  return members;
}
