/** The instruments that are plugged in and can be played, by the browser's Web MIDI (`access.ts`). */
import { ok, type Result } from '$lib/result';
import {
  browserMidi,
  connected,
  requestMidi,
  type MidiAccess,
  type MidiOutput,
  type MidiSource,
} from './access';

export interface Outputs {
  /** Asks the browser; refused with a sentence. */
  open(): Promise<Result<undefined, string>>;
  /** What is plugged in: how the browser knows it, and its name. */
  list(): readonly (readonly [id: string, name: string])[];
  /** One of them; `undefined` where it is plugged in no longer. */
  output(id: string): MidiOutput | undefined;
  close(): void;
  /** Called when one is plugged in or out. */
  onchange: (() => void) | undefined;
}

/** What a browser can play, this one where none is handed in. */
export function createOutputs(source: MidiSource = browserMidi()): Outputs {
  let access: MidiAccess | undefined;
  let opening = 0;
  const outputs: Outputs = {
    onchange: undefined,
    list: () =>
      connected(access?.outputs).map(
        ([id, { name }]) => [id, name ?? 'an instrument without a name'] as const,
      ),
    output: (id) => connected(access?.outputs).find(([each]) => each === id)?.[1],
    async open() {
      outputs.close();
      const number = ++opening;
      const given = await requestMidi(source);
      if (!given.ok) return given;
      // closed, or opened anew, while the player was asked
      if (number !== opening) return ok(undefined);
      access = given.value;
      access.onstatechange = () => outputs.onchange?.();
      return ok(undefined);
    },
    close() {
      opening++;
      if (access !== undefined) access.onstatechange = null;
      access = undefined;
    },
  };
  return outputs;
}
