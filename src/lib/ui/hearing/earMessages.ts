/** What the page and the worker that hears say to each other. Times are of the microphone's clock, in seconds. */
import type { BandNote } from '$lib/hearing/bandNotes';
import type { DueGrip, DueReading, GripReading, Loudness } from '$lib/hearing/stream';

/** Pitches that should sound. */
export interface Expected {
  /** In hertz. */
  readonly hz: readonly number[];
  /** A4, by which foreign notes are told. */
  readonly referenceHz: number;
}

/** What should sound, grip after grip, and what the band played beside it; both in the order of time. */
export interface DueGrips extends Pick<Expected, 'referenceHz'> {
  readonly grips: readonly DueGrip[];
  readonly band: readonly BandNote[];
}

export type ToWorker =
  | ({ readonly say: 'expect'; readonly number: number; readonly sampleRate: number } & Expected)
  | {
      readonly say: 'sound';
      readonly samples: Float32Array<ArrayBuffer>;
      /** When its first sample was heard. */
      readonly at: number;
      /** What the page's band plays meanwhile, in hertz. */
      readonly band: readonly number[];
    }
  /** What the page plays itself just now. */
  | { readonly say: 'played'; readonly samples: Float32Array }
  | ({
      readonly say: 'take';
      readonly samples: Float32Array<ArrayBuffer>;
      readonly sampleRate: number;
    } & DueGrips);

export type FromWorker =
  | { readonly say: 'reading'; readonly number: number; readonly reading: GripReading }
  /** A stroke fell, of whatever. */
  | { readonly say: 'stroke'; readonly number: number; readonly at: number }
  | ({ readonly say: 'loudness'; readonly at: number } & Loudness)
  /** Whether what the page played came back by the microphone. */
  | { readonly say: 'echo'; readonly heard: boolean }
  | { readonly say: 'take'; readonly readings: readonly DueReading[] };
