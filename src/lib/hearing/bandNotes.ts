/**
 * What a band played while a sound was recorded: block by block taken down, and block by block read again when the
 * sound is heard through later. Times are in seconds of the same clock as the sound's.
 */

/** A note of the band, in hertz, and from and until when it may be heard. */
export interface BandNote {
  readonly hz: number;
  readonly from: number;
  readonly until: number;
}

/** Takes down which pitches may be heard in block after block. */
export class BandTakenDown {
  readonly #over: BandNote[] = [];
  #now = new Map<number, BandNote>();

  /** A block of sound, and what of the band may be heard in it, in hertz. */
  heard(from: number, until: number, hz: readonly number[]): void {
    const now = new Map<number, BandNote>();
    for (const each of hz) {
      const before = this.#now.get(each);
      now.set(each, { hz: each, from: before?.from ?? from, until });
    }
    for (const [each, note] of this.#now) if (!now.has(each)) this.#over.push(note);
    this.#now = now;
  }

  /** All notes until now, by when they began, their times counted from `began`. */
  notes(began: number): BandNote[] {
    return [...this.#over, ...this.#now.values()]
      .map(({ hz, from, until }) => ({ hz, from: from - began, until: until - began }))
      .sort((a, b) => a.from - b.from);
  }
}

/** Gives what of the band may be heard in stretches that follow one another; notes are in order of their beginning. */
export function bandIn(
  notes: readonly BandNote[],
): (from: number, until: number) => readonly number[] {
  let next = 0;
  let sounding: readonly BandNote[] = [];
  return (from, until) => {
    const begun: BandNote[] = [];
    for (let note = notes[next]; note !== undefined && note.from < until; note = notes[++next])
      begun.push(note);
    sounding = [...sounding, ...begun].filter((note) => note.until > from);
    return [...new Set(sounding.map(({ hz }) => hz))];
  };
}
