/** Numbers that go up or down, written with their sign. */

/** `+`, or a real minus `−`; empty for 0. */
export const signOf = (value: number): string => (value > 0 ? '+' : value < 0 ? '−' : '');

/** As people read it, with `digits` decimals: `+2`, `−1.3`; what rounds to 0 has no sign: `0.0`. */
export function signed(value: number, digits = 0): string {
  const size = Math.abs(value).toFixed(digits);
  return Number(size) === 0 ? size : signOf(value) + size;
}

/** As it is typed and read back, in a file or an address: `+2`, and `-1` with a keyboard's hyphen. */
export const signedToType = (value: number): string => (value > 0 ? `+${value}` : String(value));
