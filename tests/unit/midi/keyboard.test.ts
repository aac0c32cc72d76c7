/** Keyboards by Web MIDI, with a stand-in for the browser's interface. Bytes as MIDI 1.0 has them. */
import { describe, expect, it } from 'vitest';
import type { MidiAccess, MidiInput } from '$lib/midi/access';
import { createKeyboard } from '$lib/midi/keyboard';
import { readMessage, type KeyMove } from '$lib/midi/message';

describe('a message', () => {
  it.each<[string, number[], KeyMove | undefined]>([
    ['a key goes down', [0x90, 60, 127], { midi: 60, isDown: true, velocity: 1, channel: 1 }],
    ['on channel 10', [0x99, 42, 127], { midi: 42, isDown: true, velocity: 1, channel: 10 }],
    ['it goes up', [0x80, 60, 64], { midi: 60, isDown: false, velocity: 0, channel: 1 }],
    ['down with velocity 0', [0x90, 60, 0], { midi: 60, isDown: false, velocity: 0, channel: 1 }],
    ['a controller', [0xb0, 64, 127], undefined],
    ['the clock', [0xf8], undefined],
    ['half of one', [0x90], undefined],
  ])('%s', (_, bytes, meant) => {
    expect(readMessage(Uint8Array.from(bytes))).toEqual(meant);
  });
});

class Plugged implements MidiAccess {
  readonly inputs = new Map<string, MidiInput>();
  readonly outputs = new Map();
  onstatechange: ((event: never) => unknown) | null = null;
  plug(name: string): MidiInput {
    const input: MidiInput = { name, state: 'connected', onmidimessage: null };
    this.inputs.set(name, input);
    this.onstatechange?.(undefined as never);
    return input;
  }
}
const send = (input: MidiInput, ...bytes: number[]): void => {
  input.onmidimessage?.({ data: Uint8Array.from(bytes) });
};

describe('keyboards', () => {
  it('are asked for when they are opened and not before, without system exclusive', async () => {
    const asked: unknown[] = [];
    const keyboard = createKeyboard({
      requestMIDIAccess: (options) => {
        asked.push(options);
        return Promise.resolve(new Plugged());
      },
    });
    expect(asked).toEqual([]);
    expect((await keyboard.open()).ok).toBe(true);
    expect(asked).toEqual([{ sysex: false }]);
  });
  it('tell their keys, those that are plugged in later too, and nothing once they are let go', async () => {
    const plugged = new Plugged();
    const first = plugged.plug('One');
    const keyboard = createKeyboard({ requestMIDIAccess: () => Promise.resolve(plugged) });
    const heard: number[] = [];
    let changes = 0;
    keyboard.onkey = ({ midi, isDown }) => heard.push(isDown ? midi : -midi);
    keyboard.onchange = () => changes++;
    await keyboard.open();
    send(first, 0x90, 66, 80);
    send(plugged.plug('Two'), 0x91, 63, 80);
    expect([keyboard.names(), heard, changes]).toEqual([['One', 'Two'], [66, 63], 1]);
    keyboard.close();
    send(first, 0x90, 60, 80);
    expect([heard, keyboard.names(), first.onmidimessage]).toEqual([[66, 63], [], null]);
  });
  it('closed while the browser asks: nothing is listened to', async () => {
    const plugged = new Plugged();
    const input = plugged.plug('One');
    const keyboard = createKeyboard({ requestMIDIAccess: () => Promise.resolve(plugged) });
    const opening = keyboard.open();
    keyboard.close();
    await opening;
    expect([input.onmidimessage, keyboard.names()]).toEqual([null, []]);
  });
  it('a browser that has none says so, one that refuses says why', async () => {
    const none = await createKeyboard({}).open();
    expect(none.ok ? '' : none.error).toMatch(/^This browser has no Web MIDI/);
    const refusing = createKeyboard({
      requestMIDIAccess: () =>
        Promise.reject(new DOMException('Permission denied', 'NotAllowedError')),
    });
    const refused = await refusing.open();
    expect(refused.ok ? '' : refused.error).toMatch(/not allowed to use MIDI/);
  });
});
