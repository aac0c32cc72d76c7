/** Whatever can sound one string: started, rendered in short steps at a moving pitch, cut off. */
export interface Sounder {
  /**
   * Starts from silence. `level` is 0 … 1; a palm harmonic sounds an octave above `hz`. A string falls by
   * 60 dB in `falls` seconds at `hz`.
   */
  start(hz: number, level: number, harmonic: boolean, falls: number): void;
  /** Writes the next samples, during which the pitch goes from one frequency to another. */
  render(out: Float32Array, count: number, fromHz: number, toHz: number): void;
  /** Forgets whatever was sounding. */
  clear(): void;
}
