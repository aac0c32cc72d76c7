/** The instrument outside that is played along: asked for when the player asks, the same in every place. */
import { createMpeReceiver, type MpeReceiver } from '$lib/midi/mpeReceiver';
import { createOutputs, type Outputs } from '$lib/midi/outputs';
import { momentOf } from '$lib/sound/moment';
import { plugged } from '$lib/sound/receiver';

export class MidiOut {
  readonly #create: () => Outputs;
  #outputs: Outputs | undefined;
  #receiver: MpeReceiver | undefined;

  /** The browser is asking the player. */
  asking = $state(false);
  isOpen = $state(false);
  /** Why nothing is sent, as a sentence. */
  problem = $state('');
  list = $state.raw<readonly (readonly [id: string, name: string])[]>([]);
  /** What is sent to. */
  chosen = $state<string | undefined>();

  constructor(create: () => Outputs = createOutputs) {
    this.#create = create;
  }

  /** The name of what is sent to. */
  get name(): string | undefined {
    return this.list.find(([id]) => id === this.chosen)?.[1];
  }

  /** Asks the browser, and takes the instrument where there is just one. */
  async open(): Promise<void> {
    if (this.asking) return;
    this.#outputs = this.#create();
    const outputs = this.#outputs;
    this.problem = '';
    this.asking = true;
    const opened = await outputs.open();
    this.asking = false;
    if (outputs !== this.#outputs) return;
    if (!opened.ok) {
      this.problem = opened.error;
      return;
    }
    this.isOpen = true;
    outputs.onchange = () => this.#changed();
    this.#changed();
    window.addEventListener('pagehide', this.#hide);
  }

  #changed(): void {
    const { name } = this;
    this.list = this.#outputs?.list() ?? [];
    if (this.chosen !== undefined && !this.list.some(([id]) => id === this.chosen)) {
      this.#leave();
      this.problem = `${name ?? 'The instrument'} was unplugged.`;
    } else if (this.chosen === undefined && this.list.length === 1) this.choose(this.list[0]?.[0]);
  }

  /** Sends to one of them from now on; to none where nothing is named. */
  choose(id: string | undefined): void {
    const output = id === undefined ? undefined : this.#outputs?.output(id);
    this.#leave();
    this.problem = '';
    if (output === undefined) return;
    const receiver = createMpeReceiver(output);
    this.#receiver = receiver;
    plugged.receiver = {
      take: (message, context) => receiver.take(message, () => momentOf(context)),
    };
    this.chosen = id;
  }

  /** Falls silent, and lets go of all. */
  close(): void {
    this.#leave();
    this.#outputs?.close();
    this.#outputs = undefined;
    this.isOpen = false;
    this.problem = '';
    this.list = [];
    window.removeEventListener('pagehide', this.#hide);
  }

  #leave(): void {
    this.#receiver?.silence();
    this.#receiver = undefined;
    plugged.receiver = undefined;
    this.chosen = undefined;
  }

  readonly #hide = (): void => this.#receiver?.silence();
}

export const midiOut = new MidiOut();
