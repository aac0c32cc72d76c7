/** The keyboards that are plugged in, by the browser's Web MIDI (`access.ts`). Nothing is sent to them. */
import { ok, type Result } from '$lib/result';
import { browserMidi, connected, requestMidi, type MidiAccess, type MidiSource } from './access';
import { readMessage, type KeyMove } from './message';

export interface Keyboard {
  /** Asks the browser; refused with a sentence. */
  open(): Promise<Result<undefined, string>>;
  /** The names of what is plugged in; none while it is shut. */
  names(): readonly string[];
  /** Lets go of every keyboard. */
  close(): void;
  /** Called for every key that goes down or up, of any of them. */
  onkey: ((move: KeyMove) => void) | undefined;
  /** Called when one is plugged in or out. */
  onchange: (() => void) | undefined;
}

/** The keyboards of a browser, this one where none is handed in. */
export function createKeyboard(source: MidiSource = browserMidi()): Keyboard {
  let access: MidiAccess | undefined;
  let opening = 0;
  const inputs = () => connected(access?.inputs).map(([, input]) => input);

  const keyboard: Keyboard = {
    onkey: undefined,
    onchange: undefined,
    names: () => inputs().map(({ name }) => name ?? 'a keyboard without a name'),
    async open() {
      keyboard.close();
      const number = ++opening;
      const given = await requestMidi(source);
      if (!given.ok) return given;
      // closed, or opened anew, while the player was asked
      if (number !== opening) return ok(undefined);
      access = given.value;
      const listen = (): void => {
        for (const input of inputs())
          input.onmidimessage = ({ data }) => {
            const move = data === null ? undefined : readMessage(data);
            if (move !== undefined) keyboard.onkey?.(move);
          };
      };
      listen();
      access.onstatechange = () => {
        listen();
        keyboard.onchange?.();
      };
      return ok(undefined);
    },
    close() {
      opening++;
      if (access === undefined) return;
      for (const input of access.inputs.values()) input.onmidimessage = null;
      access.onstatechange = null;
      access = undefined;
    },
  };
  return keyboard;
}
