/** The keyboards that are plugged in, while a part of the page listens to them: asked for when it is pressed. */
import { createKeyboard, type Keyboard } from '$lib/midi/keyboard';
import type { KeyMove } from '$lib/midi/message';

export class Keys {
  readonly #create: () => Keyboard;
  readonly #onkey: (move: KeyMove) => void;
  #keyboard: Keyboard | undefined;

  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why nothing is heard of them, as a sentence. */
  problem = $state('');
  /** Their names. */
  names = $state.raw<readonly string[]>([]);

  constructor(onkey: (move: KeyMove) => void, create: () => Keyboard = createKeyboard) {
    this.#onkey = onkey;
    this.#create = create;
  }

  async start(): Promise<void> {
    this.stop();
    this.problem = '';
    this.state = 'asking';
    const keyboard = this.#create();
    this.#keyboard = keyboard;
    const opened = await keyboard.open();
    // it was stopped, or begun anew, while the player was asked
    if (keyboard !== this.#keyboard) return;
    if (!opened.ok) {
      this.stop();
      this.problem = opened.error;
      return;
    }
    this.state = 'on';
    this.names = keyboard.names();
    keyboard.onchange = () => (this.names = keyboard.names());
    keyboard.onkey = this.#onkey;
  }

  stop(): void {
    this.#keyboard?.close();
    this.#keyboard = undefined;
    this.state = 'off';
    this.names = [];
  }
}
