/**
 * The keyboards that are plugged in, by the browser's Web MIDI. The browser is asked when a player asks and not
 * before; no system exclusive messages are wanted, and nothing is sent.
 */
import { ok, refuse, type Result } from '$lib/result';
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

/** As much of the browser's interface as is used, so that another can stand in for it. */
export interface MidiSource {
  readonly requestMIDIAccess?: (options: { sysex: boolean }) => Promise<MidiAccess>;
}
export interface MidiAccess {
  readonly inputs: ReadonlyMap<string, MidiInput>;
  onstatechange: ((event: never) => unknown) | null;
}
export interface MidiInput {
  readonly name?: string | null;
  readonly state?: string;
  onmidimessage: ((event: { readonly data: Uint8Array | null }) => unknown) | null;
}

const NONE =
  'This browser has no Web MIDI, so that no page can hear a keyboard in it. Chromium, Edge and Firefox have it; the microphone or typing does as well.';
const REFUSALS: Readonly<Record<string, string>> = {
  NotAllowedError:
    'The browser was not allowed to use MIDI. Allow it in the address bar or the browser’s settings, and press the button again.',
  SecurityError:
    'The browser lets no page use MIDI here. It wants https, and leave in its settings.',
  NotSupportedError: 'This device gives the browser no MIDI.',
  InvalidStateError: 'The device’s MIDI does not answer. Another program may have it.',
};

/** The keyboards of a browser, this one where none is handed in. */
export function createKeyboard(source: MidiSource = navigator as unknown as MidiSource): Keyboard {
  let access: MidiAccess | undefined;
  let opening = 0;
  const inputs = (): MidiInput[] =>
    [...(access?.inputs.values() ?? [])].filter(({ state }) => state !== 'disconnected');

  const keyboard: Keyboard = {
    onkey: undefined,
    onchange: undefined,
    names: () => inputs().map(({ name }) => name ?? 'a keyboard without a name'),
    async open() {
      keyboard.close();
      const number = ++opening;
      if (typeof source.requestMIDIAccess !== 'function') return refuse(NONE);
      try {
        const given = await source.requestMIDIAccess({ sysex: false });
        // closed, or opened anew, while the player was asked
        if (number !== opening) return ok(undefined);
        access = given;
        const listen = (): void => {
          for (const input of inputs())
            input.onmidimessage = ({ data }) => {
              const move = data === null ? undefined : readMessage(data);
              if (move !== undefined) keyboard.onkey?.(move);
            };
        };
        listen();
        given.onstatechange = () => {
          listen();
          keyboard.onchange?.();
        };
        return ok(undefined);
      } catch (error) {
        // the browser's own errors are no `Error` everywhere
        const { name = '', message = '' } = error as { name?: string; message?: string };
        return refuse(REFUSALS[name] ?? `MIDI cannot be opened: ${message}.`);
      }
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
