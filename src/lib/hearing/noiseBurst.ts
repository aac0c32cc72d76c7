/** A sound that is found again with certainty: noise by a shift register, the same every time, softened at its ends. */

/** Samples of it: 43 ms at 48 kHz. */
const LENGTH = 2048;
const SOFT = 96;

/** The burst, from −1 to 1. The register is that of x¹⁵ + x¹⁴ + 1, which comes round after 32,767 steps. */
export function noiseBurst(): Float32Array<ArrayBuffer> {
  let register = 1;
  return Float32Array.from({ length: LENGTH }, (_, i) => {
    const bit = ((register >> 14) ^ (register >> 13)) & 1;
    register = ((register << 1) | bit) & 0x7fff;
    const end = Math.min(i, LENGTH - 1 - i);
    return (bit === 1 ? 1 : -1) * Math.min(1, (end + 0.5) / SOFT);
  });
}
