/**
 * What Arrange shows and asks: a piece, wishes, and the best ways through it on a setup. Piece and wishes are asked
 * together and answered together, so that they are one state, in one file; wishes of single chords and notes, what is
 * kept and what plays have theirs.
 */
import type { ArrangedStep, ArrangedWay, Unplayable } from '$lib/arrange/arrange';
import type { Alternative, Alternatives } from '$lib/arrange/alternatives';
import { folded } from '$lib/arrange/fold';
import { keyOf } from '$lib/arrange/findKey';
import type { OnePull } from '$lib/arrange/onePull';
import { withPasses } from '$lib/arrange/passes';
import { stepsOf } from '$lib/arrange/progression';
import { foundText } from '$lib/answers/options';
import { readWishes } from '$lib/answers/readWishes';
import type { WishPart, WishTexts } from '$lib/answers/wishParts';
import { movedPlaces } from '$lib/answers/movedPlaces';
import { measuresAfter } from '$lib/arrange/measuresAfter';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { PlacedPhrase } from '$lib/phrases/placed';
import type { Piece } from '$lib/arrange/piece';
import { isChordsAlone } from '$lib/arrange/texture';
import type { TuneWay } from '$lib/arrange/tune';
import { transposedPiece } from '$lib/arrange/transposed';
import type { StepWishes, Wishes } from '$lib/arrange/wishes';
import type { Result } from '$lib/result';
import { emptyPiece, saidBy, shownText, typed, withPiece } from '$lib/storage/piece';
import type { Entry } from '$lib/ui/kit/addressBar';
import { withChord, withHold, type Added } from './adding';
import { answerOf, type Answered, type Arranging, type Shelf } from './asking';
import { tuningQuery, type ProgressionAddress } from './address';
import { ChordWishes } from './chordWishes.svelte';
import { indexesAfter, type Lock, type Locks } from './locks';

export type { Answered, Arranging, Shelf } from './asking';

/** Ways that are laid out. */
const WAYS = 8;

export class ProgressionState {
  readonly #worker: Arranging;
  readonly #shelf: Shelf;
  readonly #onaddress: (address: ProgressionAddress, entry: Entry) => void;
  #questions = 0;

  /** What is asked, as an address and the device hold it. */
  #asked = $state.raw<ProgressionAddress>({ setup: '', piece: emptyPiece(), wishes: {} });
  /** What is being typed, as it was typed, and the structure that this began with. */
  #typing = $state.raw<{ readonly text: string; readonly base: Piece } | undefined>();
  /** The wishes as they were read last, with the texts that say them. */
  #wished = $state.raw<{ readonly texts: WishTexts; readonly wishes: Wishes } | undefined>();
  answered = $state.raw<Answered | undefined>();
  /** The way on show, as an index among all that were found. */
  chosen = $state(0);
  /** Arrangements of other characters, once they were asked for. */
  alternatives = $state.raw<Alternatives | undefined>();
  /** The one of them on show, in place of the chosen way. */
  other = $state.raw<Alternative | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();
  /** Why the wishes cannot be read, each as a sentence with its part. */
  wishFaults = $state.raw<readonly { readonly part: WishPart; readonly words: string }[]>([]);

  get asked(): ProgressionAddress {
    return this.#asked;
  }
  get setupId(): string {
    return this.#asked.setup;
  }
  /** What the field shows: what is being typed as it was typed, else the piece as it is written. */
  get text(): string {
    return this.#typing?.text ?? shownText(this.#asked);
  }
  /** What is written cannot be read as a whole: it is kept as a draft, and the piece is as it was before. */
  get isUnfinished(): boolean {
    return this.#asked.draft !== undefined;
  }
  get wishTexts(): WishTexts {
    return this.#asked.wishes;
  }
  readonly read = $derived(saidBy(this.#asked));
  readonly #steps = $derived(stepsOf(this.read.progression));
  readonly key = $derived(keyOf(this.read.progression));
  readonly ways = $derived(this.answered?.arrangement.ways ?? []);
  /** The ways that really differ; near-copies stand with the better one. */
  readonly different = $derived(folded(this.ways));
  readonly way: ArrangedWay | undefined = $derived(this.other?.way ?? this.ways[this.chosen]);
  /** The way of the tune on show, where a texture is asked for. */
  readonly tuneWay: TuneWay | undefined = $derived(this.answered?.tune?.ways[this.chosen]);
  /** What is wished, as it was read last. */
  get wishes(): Wishes | undefined {
    return this.#wished?.wishes;
  }
  /** The arrangements in their parts, and how the setup is tuned for their chords; a query. */
  readonly found = $derived(
    this.answered && this.way
      ? {
          ways: this.ways,
          different: this.different,
          chosen: this.other ? undefined : this.chosen,
          tuning: tuningQuery(this.setupId, this.answered.progression),
        }
      : undefined,
  );
  /** What is on show answers an older text. */
  readonly isBehind = $derived(
    this.answered !== undefined && this.answered.text !== shownText(this.#asked),
  );
  readonly #chords = new ChordWishes(() => ({
    ...{ read: this.read, texts: this.wishTexts },
    ...{ wished: this.#wished, setup: this.answered?.setup },
  }));
  get locks(): Locks {
    return this.#chords.locks;
  }

  constructor(
    worker: Arranging,
    shelf: Shelf,
    onaddress: (address: ProgressionAddress, entry: Entry) => void,
  ) {
    this.#worker = worker;
    this.#shelf = shelf;
    this.#onaddress = onaddress;
  }

  async open(asked: ProgressionAddress): Promise<void> {
    // what this tab typed a moment ago stays in the field as it is
    if (shownText(asked) !== shownText(this.#asked)) this.#typing = undefined;
    this.#asked = asked;
    this.#chords.clear();
    await this.solve();
  }

  /** @param pause milliseconds without another change after which the piece is arranged: while typing */
  async write(text: string, entry: Entry, pause = 0): Promise<void> {
    const before = this.#steps;
    const locks = this.locks;
    const base = this.#typing?.base ?? this.#asked.piece;
    const was = this.#written;
    this.#asked = typed(this.#asked, text, base);
    this.#moveMeasures(was);
    this.#typing = entry === 'same' || pause > 0 ? { text, base } : undefined;
    // locks and refusals speak of chords by their number, which may be another one now
    if (!this.#chords.isEmpty) this.#move(locks, indexesAfter(before, this.#steps));
    await this.#again(entry, pause);
  }

  /** The field is left: from now on it shows the piece as it is written. */
  settle(): void {
    this.#typing = undefined;
  }

  /** Another piece in place of this one, as it came from a file. */
  async take(piece: Piece): Promise<void> {
    this.#replace(piece);
    await this.#again('new');
  }

  #replace(piece: Piece): void {
    const before = this.#steps;
    const locks = this.locks;
    const was = this.#written;
    this.#put(piece);
    this.#moveMeasures(was);
    this.#move(locks, indexesAfter(before, this.#steps));
  }

  /** A phrase after the end, in its own texture; what is played of the rest stays as it is. */
  async addPhrase({ piece: added, phrase: { texture } }: PlacedPhrase): Promise<void> {
    const [{ withAfter }, { texturesAfter }] = await Promise.all([
      import('$lib/phrases/withAfter'),
      import('$lib/answers/phraseTextures'),
    ]);
    const piece = this.#written;
    const counts = [piece.measures.length, added.measures.length] as const;
    const textures = texturesAfter(this.wishes?.textures, ...counts, texture);
    this.#replace(withAfter(piece, added));
    // what is said of its measures can be said when they are there
    this.#change({ wishes: { ...this.wishTexts, ...textures } });
    await this.#again('new');
  }

  /** One chord more at the end, held as it was found; text that cannot be read as a hold is told. */
  async append({ symbol, hold }: Added): Promise<void> {
    this.#change({ wishes: withHold(this.wishTexts, this.#steps.length, hold) });
    this.#typing = undefined;
    this.#asked = typed(this.#asked, withChord(this.text, symbol));
    await this.#again('same');
  }

  async wish(part: WishPart, text: string): Promise<void> {
    this.#change({ wishes: { ...this.wishTexts, [part]: text } });
    await this.#again('new');
  }

  async choose(setupId: string): Promise<void> {
    this.#unlock({ setup: setupId });
    await this.#again('new');
  }

  /** The whole piece so many semitones higher; locks go, since the notes are others. */
  async transpose(semitones: number): Promise<void> {
    this.#put(transposedPiece(this.#written, semitones));
    this.#unlock({});
    await this.#again('new');
  }

  /** Keeps a chord's voicing, its fret or its top note, and looks for the rest anew. */
  async lock(step: ArrangedStep, lock: Lock): Promise<void> {
    await this.wish('locks', this.#chords.locked(step, lock));
  }

  /** Takes what is nearest for a chord that cannot be played as asked. */
  async settleFor(index: number, change: StepWishes): Promise<void> {
    await this.wish('locks', this.#chords.changed(index, change));
  }

  /** Which one pull more would make a chord of the answer playable. */
  async onePull({ index, step }: Unplayable): Promise<Result<readonly OnePull[], string>> {
    if (this.answered === undefined) throw new Error('a chord of no answer');
    const { setup, wishes } = this.answered;
    return this.#worker.onePull(setup, wishes, step, index);
  }

  lockOf(index: number): Lock {
    return this.#chords.lockOf(index);
  }

  /** Looks for the best ways that play this chord otherwise than it is played now. */
  async otherwise(step: ArrangedStep): Promise<void> {
    await this.wish('locks', this.#chords.turnDown(step));
  }

  turnedDown(index: number): number {
    return this.#chords.turnedDown(index);
  }

  /** Looks for arrangements of other characters, for the answer that is on show. */
  async findAlternatives(): Promise<void> {
    const { answered } = this;
    const best = answered?.arrangement.ways[0];
    if (answered === undefined || best === undefined) return;
    const { setup, progression, wishes } = answered;
    const found = await this.#worker.alternatives(setup, progression, wishes, best);
    if (answered !== this.answered) return;
    if (found.ok) this.alternatives = found.value;
    else this.failure = found.error;
  }

  async solve(pause = 0): Promise<void> {
    const question = ++this.#questions;
    if (pause > 0) await new Promise((then) => setTimeout(then, pause));
    if (question !== this.#questions) return;
    const text = shownText(this.#asked);
    const setup = await this.#shelf.find(this.setupId);
    if (question !== this.#questions) return;
    if (setup === undefined)
      return this.#nothing(
        `${this.#shelf.unknown(this.setupId)} Choose one in the header, and the piece is arranged for it.`,
      );
    const wishes = readWishes(setup, this.wishTexts);
    this.wishFaults = wishes.ok
      ? []
      : wishes.error.map((fault) => ({ part: fault.path, words: foundText(fault) }));
    // what cannot be read is told, and the last answer stays
    if (!wishes.ok) {
      this.busy = false;
      this.failure = undefined;
      return;
    }
    this.#wished = { texts: this.wishTexts, wishes: wishes.value };
    const document = this.#asked;
    const { progression, piece } = this.read;
    if (progression.bars.length === 0) return this.#nothing();
    this.busy = true;
    const own = this.#chords.without(wishes.value);
    const asked =
      own.textures === undefined || isChordsAlone(own.textures)
        ? withPasses(own, progression, piece)
        : own;
    const found = await answerOf(this.#worker, { setup, progression, piece, wishes: asked }, WAYS);
    if (question !== this.#questions) return;
    this.busy = false;
    this.failure = found.ok ? undefined : found.error;
    if (!found.ok) return;
    this.answered = {
      ...{ text, setup, progression, asked: document, wishes: asked, ...found.value },
      ...(piece === undefined ? {} : { piece }),
    };
    this.alternatives = undefined;
    this.other = undefined;
    this.chosen = 0;
  }

  /** There is nothing to show, and why, if that is a failure. */
  #nothing(failure?: string): void {
    this.busy = false;
    this.answered = undefined;
    this.failure = failure;
  }

  #move(locks: Locks, indexOf: ReturnType<typeof indexesAfter>): void {
    const text = this.#chords.move(locks, indexOf);
    if (text !== undefined) this.#change({ wishes: { ...this.wishTexts, locks: text } });
  }

  /** The piece as it is written. */
  get #written(): Piece {
    const { progression, piece = pieceOf(progression) } = this.read;
    return piece;
  }

  /** What is said of measures and their notes goes along with them. */
  #moveMeasures(before: Piece): void {
    const wishes = movedPlaces(this.wishTexts, measuresAfter(before, this.#written));
    if (wishes !== this.wishTexts) this.#change({ wishes });
  }

  #change(parts: Partial<ProgressionAddress>): void {
    this.#asked = { ...this.#asked, ...parts };
  }

  #put(piece: Piece): void {
    this.#typing = undefined;
    this.#asked = withPiece(this.#asked, piece);
  }

  /** Changes what makes locks and refusals say nothing any more. */
  #unlock(parts: Partial<ProgressionAddress>): void {
    this.#change({ ...parts, wishes: { ...this.wishTexts, locks: '', notes: '' } });
    this.#chords.clear();
  }

  async #again(entry: Entry, pause = 0): Promise<void> {
    this.#onaddress(this.asked, entry);
    await this.solve(pause);
  }
}
