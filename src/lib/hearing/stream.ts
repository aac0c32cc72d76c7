/**
 * A grip heard in a sound that goes on: a first answer a quarter of a second after each stroke, finer ones as
 * it rings, then what the hand does from half second to half second; also where nothing is struck, as when
 * the volume pedal brings the strings in. Pure: blocks of samples in, readings out.
 */
import { bandIn, type BandNote } from './bandNotes';
import { hearGrip, type HeardGrip } from './hear';
import { SoundRing } from './ring';
import { StrokeFinder } from './strokes';

/** One look at what sounds. Times are in seconds from the beginning of the sound. */
export interface GripReading {
  /** Up to where it was listened. */
  readonly at: number;
  /** When the strings were struck; nothing where they only ring on, or were swelled in. */
  readonly struck?: number;
  /** Seconds that were listened to. */
  readonly seconds: number;
  /** `first` a quarter of a second after a stroke, `finer` later, `last` of the stroke; then `ringing`. */
  readonly stage: 'first' | 'finer' | 'last' | 'ringing';
  readonly heard: HeardGrip;
}

/** How loud the last tenth of a second was. */
export interface Loudness {
  /** Root mean square, of full scale. */
  readonly level: number;
  /** So great a part of the samples stands at full scale. */
  readonly clipped: number;
}

/** Seconds after the last stroke at which a grip is looked at: a first answer, then finer ones. */
export const LOOKS = [0.25, 0.7, 1.45] as const;
/** What rings on is looked at every so many seconds, by the last so many. */
const EVERY_S = 0.5;
const WINDOW_S = 0.7;
/** Quieter than this nothing rings any more: −60 dB of full scale. */
export const AUDIBLE = 0.001;
/** The ring holds so many seconds. */
const HOLDS_S = 2.2;
/** At or beyond this a sample is cut. */
const FULL = 0.997;
const LOUDNESS_S = 0.1;

const stageOf = (look: number): GripReading['stage'] =>
  look === 0 ? 'first' : look === LOOKS.length - 1 ? 'last' : 'finer';

export class GripStream {
  readonly #sampleRate: number;
  readonly #ring: SoundRing;
  readonly #strokes: StrokeFinder;
  #expected: readonly number[] = [];
  #a4Hz = 440;
  /** When the grip was asked for: a stroke before was another's. */
  #from = 0;
  /** The stroke that is looked at, and how often it was. */
  #at: number | undefined;
  #looks = 0;
  /** Up to where what rings was looked at. */
  #looked = 0;
  /** What the band played, in hertz, while blocks were heard that end at these samples. */
  #band: readonly { readonly until: number; readonly hz: readonly number[] }[] = [];

  constructor(sampleRate: number) {
    this.#sampleRate = sampleRate;
    this.#ring = new SoundRing(Math.round(HOLDS_S * sampleRate));
    this.#strokes = new StrokeFinder(sampleRate);
  }

  /** Seconds of sound that have come. */
  get seconds(): number {
    return this.#ring.total / this.#sampleRate;
  }

  /** What should sound from now on, in hertz; strokes before count no more. */
  expect(hz: readonly number[], a4Hz = 440): void {
    this.#expected = hz;
    this.#a4Hz = a4Hz;
    this.#from = this.#ring.total;
    this.#at = undefined;
    this.#looked = this.#ring.total;
  }

  /** More of the sound, and what the band plays meanwhile, in hertz. */
  push(block: Float32Array, band: readonly number[] = []): void {
    this.#ring.push(block);
    this.#strokes.push(block);
    if (band.length === 0 && this.#band.length === 0) return;
    const kept = this.#band.filter(({ until }) => until > this.#ring.oldest);
    this.#band = band.length === 0 ? kept : [...kept, { until: this.#ring.total, hz: band }];
  }

  /** The last so many samples, silence before the first. */
  last(count: number): Float32Array<ArrayBuffer> {
    return this.#ring.last(count);
  }

  loudness(): Loudness {
    const last = this.last(Math.round(LOUDNESS_S * this.#sampleRate));
    let [sum, full] = [0, 0];
    for (const each of last) {
      sum += each * each;
      if (Math.abs(each) >= FULL) full += 1;
    }
    return { level: Math.sqrt(sum / last.length), clipped: full / last.length };
  }

  /** What is due to be looked at now; nothing where nothing is. Call it after every block. */
  read(): GripReading | undefined {
    if (this.#expected.length === 0) return undefined;
    const stroke = this.#strokes.stroke;
    if (stroke !== undefined && stroke.at >= this.#from && stroke.last !== this.#at) {
      this.#at = stroke.last;
      this.#looks = 0;
    }
    return this.#struck(stroke?.at ?? 0) ?? this.#ringing();
  }

  /** When the latest stroke of what is expected fell, in seconds; it is known 40 ms later. */
  get struck(): number | undefined {
    const stroke = this.#strokes.stroke;
    return stroke === undefined || stroke.at < this.#from
      ? undefined
      : stroke.at / this.#sampleRate;
  }

  /** Whether something sounds at the end of what came. */
  #sounds(): boolean {
    return this.loudness().level > AUDIBLE;
  }

  #struck(at: number): GripReading | undefined {
    if (this.#at === undefined) return undefined;
    const due = LOOKS[this.#looks];
    const { total } = this.#ring;
    if (due === undefined || total < this.#at + due * this.#sampleRate) return undefined;
    // where more than one is due the finest is enough
    const passed = LOOKS.filter(
      (each) => total >= (this.#at ?? 0) + each * this.#sampleRate,
    ).length;
    const look = this.#looks === 0 ? 0 : passed - 1;
    this.#looks = look + 1;
    this.#looked = total;
    return this.#reading(this.#at, stageOf(look), at / this.#sampleRate);
  }

  #ringing(): GripReading | undefined {
    const { total } = this.#ring;
    const begins = this.#at === undefined || this.#looks >= LOOKS.length;
    if (!begins || total < this.#looked + EVERY_S * this.#sampleRate) return undefined;
    this.#looked = total;
    if (total - this.#from < WINDOW_S * this.#sampleRate || !this.#sounds()) return undefined;
    return this.#reading(total - Math.round(WINDOW_S * this.#sampleRate), 'ringing');
  }

  #reading(from: number, stage: GripReading['stage'], struck?: number): GripReading {
    const samples = this.#ring.slice(from);
    const played = this.#band.filter(({ until }) => until > from).flatMap(({ hz }) => hz);
    return {
      at: this.seconds,
      ...(struck === undefined ? {} : { struck }),
      seconds: samples.length / this.#sampleRate,
      stage,
      heard: hearGrip(samples, this.#sampleRate, this.#expected, this.#a4Hz, [...new Set(played)]),
    };
  }
}

/** So many samples are handed on at a time. */
const BLOCK = 2048;

/** What is asked of a player from some second of a sound on. */
export interface DueGrip {
  readonly from: number;
  /** Its pitches, in hertz. */
  readonly hz: readonly number[];
}

/** A reading, and which of the grips was due by then. */
export interface DueReading extends GripReading {
  readonly grip: number;
}

/**
 * All readings of a sound that is already there, such as a recorded take: each by the grip that was due then, and
 * with what the band played. Grips and notes stand in the order of time.
 */
export function readingsOf(
  samples: Float32Array,
  sampleRate: number,
  grips: readonly DueGrip[],
  a4Hz = 440,
  band: readonly BandNote[] = [],
): DueReading[] {
  const stream = new GripStream(sampleRate);
  const played = bandIn(band);
  const readings: DueReading[] = [];
  let next = 0;
  for (let at = 0; at < samples.length;) {
    while (next < grips.length && at >= startOf(grips[next], sampleRate))
      stream.expect(grips[next++]?.hz ?? [], a4Hz);
    const until = Math.min(at + BLOCK, startOf(grips[next], sampleRate));
    stream.push(samples.subarray(at, until), played(at / sampleRate, until / sampleRate));
    at = until;
    const reading = stream.read();
    if (reading !== undefined) readings.push({ ...reading, grip: next - 1 });
  }
  return readings;
}

const startOf = (grip: DueGrip | undefined, sampleRate: number): number =>
  grip === undefined ? Infinity : Math.round(grip.from * sampleRate);
