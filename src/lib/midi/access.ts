/**
 * As much of the browser's Web MIDI as is used, so that another can stand in for it, and why it may not be had.
 * The browser is asked when a player asks and not before; no system exclusive messages are wanted.
 */
import { ok, refuse, type Result } from '$lib/result';

export interface MidiInput {
  readonly name?: string | null;
  readonly state?: string;
  onmidimessage: ((event: { readonly data: Uint8Array | null }) => unknown) | null;
}
export interface MidiOutput {
  readonly name?: string | null;
  readonly state?: string;
  /** @param timestamp when it is due, in milliseconds of the page; at once where it is past */
  send(data: readonly number[], timestamp?: number): void;
}
export interface MidiAccess {
  readonly inputs: ReadonlyMap<string, MidiInput>;
  readonly outputs: ReadonlyMap<string, MidiOutput>;
  onstatechange: ((event: never) => unknown) | null;
}
export interface MidiSource {
  readonly requestMIDIAccess?: (options: { sysex: boolean }) => Promise<MidiAccess>;
}

const NONE =
  'This browser has no Web MIDI, so no page can reach a keyboard or an instrument from it. Chromium, Edge and Firefox have it.';
const REFUSALS: Readonly<Record<string, string>> = {
  NotAllowedError:
    'The browser was not allowed to use MIDI. Allow it in the address bar or the browser’s settings, and press the button again.',
  SecurityError:
    'The browser lets no page use MIDI here. It wants https, and leave in its settings.',
  NotSupportedError: 'This device gives the browser no MIDI.',
  InvalidStateError: 'The device’s MIDI does not answer. Another program may have it.',
};

/** This browser's own. */
export const browserMidi = (): MidiSource => navigator as unknown as MidiSource;

/** Asks the browser for what is plugged in; refused with a sentence. */
export async function requestMidi(source: MidiSource): Promise<Result<MidiAccess, string>> {
  if (typeof source.requestMIDIAccess !== 'function') return refuse(NONE);
  try {
    return ok(await source.requestMIDIAccess({ sysex: false }));
  } catch (error) {
    // the browser's own errors are no `Error` everywhere
    const { name = '', message = '' } = error as { name?: string; message?: string };
    return refuse(REFUSALS[name] ?? `MIDI cannot be opened: ${message}.`);
  }
}

/** Those of a kind that are plugged in. */
export const connected = <Port extends { readonly state?: string }>(
  ports: ReadonlyMap<string, Port> | undefined,
): (readonly [id: string, port: Port])[] =>
  [...(ports ?? [])].filter(([, { state }]) => state !== 'disconnected');
