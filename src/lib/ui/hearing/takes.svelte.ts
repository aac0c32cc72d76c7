/** Takes that are recorded: while one is, what becomes of it, and those that are kept on this device. */
import type { WantedString } from '$lib/answers/heardHold';
import { BandTakenDown } from '$lib/hearing/bandNotes';
import { playedGrips } from '$lib/hearing/playedGrip';
import { timingOf, type Timing } from '$lib/hearing/timing';
import type { Result } from '$lib/result';
import type { Recording } from '$lib/sound/recording';
import type { HeardSound } from '$lib/sound/microphone';
import type { KeptTake, TakeStore, TakeString } from '$lib/storage/takes';
import { newId } from '$lib/ui/shelf/newId';
import { hearTake } from './ear';
import { heardMore, sumOf, type StringTake, type Take } from './take';

/** What a take came to, by the same ear that listens live. */
export interface TakeSum {
  /** By string, with the notes that were asked of it; nothing where it was not heard. */
  readonly strings: readonly {
    readonly string: number;
    readonly notes: readonly string[];
    readonly heard?: StringTake;
  }[];
  /** Strokes, and how many of them had every string and no other. */
  readonly struck: number;
  readonly right: number;
  /** Nothing where there was no click. */
  readonly timing?: Timing;
}

/** A take on the list; one that is not kept is here until the page is left. */
export interface ListedTake {
  readonly take: KeptTake;
  readonly kept: boolean;
}

/** Each string once, from the first, with all notes that were asked of it. */
function stringsOf(
  asked: readonly TakeString[],
): { readonly string: number; readonly notes: readonly string[] }[] {
  const numbers = [...new Set(asked.map(({ string }) => string))].sort((a, b) => a - b);
  return numbers.map((string) => ({
    string,
    notes: [...new Set(asked.filter((each) => each.string === string).map(({ note }) => note))],
  }));
}

/** A chord is struck a little before it is shown: what is struck so many seconds early is meant for it. */
const EARLY_S = 0.12;

export class Takes {
  readonly #store: TakeStore;
  #recording: Recording | undefined;
  /** What was asked since it began, and when, by the microphone's clock. */
  #asked: readonly { readonly at: number; readonly strings: readonly TakeString[] }[] = [];

  #band = new BandTakenDown();

  recording = $state(false);
  seconds = $state(0);
  list = $state.raw<readonly ListedTake[]>([]);
  /** What went wrong, as a sentence. */
  trouble = $state('');
  /** The take that was deleted last, which can be put back. */
  deleted = $state.raw<ListedTake>();
  sums = $state.raw<Readonly<Record<string, TakeSum>>>({});

  constructor(store: TakeStore) {
    this.#store = store;
  }

  async read(): Promise<void> {
    const read = await this.#store.all();
    if (!read.ok) {
      this.trouble = read.error;
      return;
    }
    const here = this.list.filter(({ kept }) => !kept);
    this.list = [...here, ...read.value.map((take) => ({ take, kept: true }))];
  }

  begin(recording: Recording): void {
    this.#recording = recording;
    this.#asked = [];
    this.#band = new BandTakenDown();
    this.recording = true;
    this.seconds = 0;
    this.trouble = '';
  }

  /** From a time of the microphone's clock on another grip is asked; the first is that of the beginning. */
  asks(wanted: readonly (WantedString & { readonly note: string })[], at: number): void {
    if (!this.recording) return;
    const strings = wanted.map(({ string, note, hz }) => ({ string, note, hz }));
    if (JSON.stringify(this.#asked.at(-1)?.strings) === JSON.stringify(strings)) return;
    this.#asked = [...this.#asked, { at: at - EARLY_S, strings }];
  }

  /** More of the sound, and what of the band may be heard in it, in hertz. */
  heard(sound: HeardSound, band: readonly number[] = []): void {
    const recording = this.#recording;
    if (recording === undefined) return;
    recording.heard(sound);
    this.#band.heard(sound.at, sound.at + sound.samples.length / recording.sampleRate, band);
    this.seconds = Math.floor(recording.seconds);
  }

  get isFull(): boolean {
    return this.#recording?.isFull === true;
  }

  /** Ends the take, and keeps it; clicks were due at `beats`, by the microphone's clock. */
  async finish(name: string, referenceHz: number, beats: readonly number[]): Promise<void> {
    const recorded = this.#recording?.finish();
    this.#recording = undefined;
    this.recording = false;
    if (recorded === undefined || recorded.heard.length === 0) return;
    const { began, ...tracks } = recorded;
    const length = tracks.heard.length / tracks.sampleRate;
    const later = this.#asked.slice(1).map(({ at, strings }) => ({
      ...{ from: Math.max(0, at - began), strings },
    }));
    const bandNotes = this.#band.notes(began);
    await this.#keep({
      id: newId(),
      name,
      when: Date.now(),
      ...tracks,
      strings: this.#asked[0]?.strings ?? [],
      ...(later.length === 0 ? {} : { later }),
      ...(bandNotes.length === 0 ? {} : { bandNotes }),
      referenceHz,
      beats: beats.map((at) => at - began).filter((at) => at > -1 && at < length + 1),
    });
  }

  /** Keeps a take; where that fails it stays on the list, and the trouble is said. */
  async #keep(take: KeptTake): Promise<void> {
    const others = this.list.filter((each) => each.take.id !== take.id);
    this.list = [{ take, kept: false }, ...others];
    const done = await this.#store.keep(take);
    this.trouble = done.ok ? '' : done.error;
    if (done.ok)
      this.list = this.list.map((each) => (each.take.id === take.id ? { take, kept: true } : each));
  }

  keepNow({ take }: ListedTake): Promise<void> {
    return this.#keep(take);
  }

  async remove(listed: ListedTake): Promise<void> {
    const { id } = listed.take;
    const done: Result<undefined, string> = listed.kept
      ? await this.#store.remove(id)
      : { ok: true, value: undefined };
    this.trouble = done.ok ? '' : done.error;
    if (!done.ok) return;
    this.list = this.list.filter(({ take }) => take.id !== id);
    this.deleted = listed;
  }

  async restore(): Promise<void> {
    const listed = this.deleted;
    this.deleted = undefined;
    if (listed !== undefined) await this.#keep(listed.take);
  }

  /** Hears a take through; `delay` is that from loudspeaker to microphone, in seconds. */
  async sum(take: KeptTake, delay: number): Promise<void> {
    const { fromInts } = await import('$lib/sound/recording');
    const { sampleRate, strings, later = [], bandNotes = [], referenceHz, beats } = take;
    const grips = [{ from: 0, strings }, ...later];
    const heard = await hearTake(fromInts(take.heard), sampleRate, {
      grips: grips.map(({ from, strings: own }) => ({ from, hz: own.map(({ hz }) => hz) })),
      referenceHz,
      band: bandNotes,
    });
    if (!heard.ok) {
      this.trouble = heard.error;
      return;
    }
    const rows = stringsOf(grips.flatMap((grip) => grip.strings));
    const all = heard.value.reduce<Take>(
      (sum, reading) =>
        heardMore(
          sum,
          rows.map(({ string }) => {
            const place = grips[reading.grip]?.strings.findIndex((each) => each.string === string);
            const own = reading.heard.strings[place ?? -1];
            return own?.certain === true ? own.cents : undefined;
          }),
          reading.at * 1000,
        ),
      rows.map(() => []),
    );
    const played = playedGrips(heard.value);
    const timing = timingOf(
      played.map(({ at }) => at),
      beats,
      delay,
    );
    this.sums = {
      ...this.sums,
      [take.id]: {
        strings: rows.map((row, at) => {
          const sum = sumOf(all[at] ?? []);
          return { ...row, ...(sum === undefined ? {} : { heard: sum }) };
        }),
        struck: played.length,
        right: played.filter(({ right }) => right).length,
        ...(timing === undefined ? {} : { timing }),
      },
    };
  }
}
