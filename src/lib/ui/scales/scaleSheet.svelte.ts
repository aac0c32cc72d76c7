/** What is asked of a scale: its name read, its pockets and ladder found by the workers. */
import type { Result } from '$lib/result';
import type { Chord } from '$lib/theory/chord';
import { readScale, scaleOfChord, type Scale } from '$lib/theory/scales';
import type { Key } from '$lib/theory/spelling';
import type { Setup } from '$lib/setup/setup';
import type { TuneStep } from '$lib/arrange/tune';
import type { Ladder } from '$lib/scales/ladders';
import type { PricedPocket } from '$lib/scales/pockets';
import type { BrokenOff, ScaleAsked, ScaleTold } from '$lib/answers/scaleView';
import type { ScaleView } from '$lib/ui/explore/address';

/** Who answers. */
export interface ScaleAnswering {
  ask(
    job: 'scales',
    setup: Setup,
    asked: ScaleAsked,
  ): Promise<Result<Result<ScaleTold, string>, string>>;
}

/** The scale that is meant: the one that is named, or else that of a chord; with what is wrong with a name. */
export function scaleMeant(
  named: string,
  chord: Chord | undefined,
  key: Key | undefined,
): { readonly scale?: Scale; readonly fault?: string } {
  const own = chord === undefined ? undefined : scaleOfChord(chord, key);
  if (named.trim() === '') return own === undefined ? {} : { scale: own };
  const read = readScale(named, key);
  if (read.ok) return { scale: read.value };
  const { found, allowed, meant } = read.error;
  const near = meant.length === 0 ? '' : ` Near it: ${meant.join(', ')}.`;
  return {
    ...(own === undefined ? {} : { scale: own }),
    fault: `Found “${found}”; allowed is ${allowed}.${near}`,
  };
}

export class ScaleSheet {
  readonly #pool: ScaleAnswering;
  #asked = 0;

  pockets = $state.raw<readonly PricedPocket[] | undefined>();
  /** The pocket whose run is shown. */
  chosen = $state.raw<PricedPocket | undefined>();
  run = $state.raw<readonly TuneStep[] | undefined>();
  ladder = $state.raw<Ladder | undefined>();
  /** What that ladder is of: while another is looked for it still stands. */
  ladderOf = $state.raw<{ readonly scale: Scale; readonly interval: string } | undefined>();
  /** Why the ladder ends before it has gone through an octave, and what has more. */
  brokenOff = $state.raw<BrokenOff | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();

  constructor(pool: ScaleAnswering) {
    this.#pool = pool;
  }

  /** Finds what a view shows; what was found before stays until then. */
  async find(setup: Setup, scale: Scale, neck: number, view: ScaleView): Promise<void> {
    if (view.show === 'here') {
      this.#asked += 1;
      this.failure = undefined;
      return;
    }
    const shared = { scale: scale.name, neck: String(neck) };
    if (view.show === 'pockets') {
      const texts = { ...shared, pocket: view.pocket };
      const told = await this.#ask(setup, { what: 'pockets', texts });
      if (told === undefined) return;
      this.pockets = told.pockets;
      this.chosen = told.pockets?.[0];
      this.run = told.run;
      return;
    }
    const { interval, strings, way, slants } = view;
    const texts = { ...shared, interval, strings, way, slants };
    const told = await this.#ask(setup, { what: 'ladder', texts });
    if (told === undefined) return;
    this.ladder = told.ladder;
    this.ladderOf = { scale, interval };
    this.brokenOff = told.brokenOff;
  }

  /** Shows the run of a pocket. */
  async choose(setup: Setup, scale: Scale, neck: number, pocket: PricedPocket): Promise<void> {
    this.chosen = pocket;
    const texts = { scale: scale.name, neck: String(neck) };
    const told = await this.#ask(setup, { what: 'run', texts, pocket });
    if (told !== undefined) this.run = told.run;
  }

  /** The answer; nothing where there is none, or where a newer question was asked. */
  async #ask(setup: Setup, asked: ScaleAsked): Promise<ScaleTold | undefined> {
    const number = ++this.#asked;
    this.busy = true;
    const answered = await this.#pool.ask('scales', setup, asked);
    if (number !== this.#asked) return undefined;
    this.busy = false;
    const told = answered.ok ? answered.value : answered;
    this.failure = told.ok ? undefined : told.error;
    if (!told.ok && asked.what === 'ladder') this.ladder = this.brokenOff = undefined;
    return told.ok ? told.value : undefined;
  }
}
