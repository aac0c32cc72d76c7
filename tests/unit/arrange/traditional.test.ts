/**
 * Traditional tunes in all textures on three setups, written as MIDI and read back note by note with another
 * library than the one that writes it (`jzz-midi-smf`): what every step sounds is there in its middle, and the
 * tune however it is struck.
 */
import JZZ from 'jzz';
import smf from 'jzz-midi-smf';
import { beforeAll, describe, expect, it } from 'vitest';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { inOrder } from '$lib/arrange/inOrder';
import { voiceOf } from '$lib/arrange/onsets';
import type { Piece } from '$lib/arrange/piece';
import { struckSteps, type StruckStep } from '$lib/arrange/strike';
import { STRIKES } from '$lib/arrange/strikeNames';
import { TEXTURES } from '$lib/arrange/texture';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { readAbc } from '$lib/formats/read/abc';
import { tuneFileKind } from '$lib/formats/tuneFiles';
import { battery } from '../../battery';
import { LONG } from '../../seed';
import { TRADITIONAL } from './traditional';

/** An event as the independent reader has it: its bytes, or the kind and data of a meta event. */
interface Message {
  readonly [at: number]: number | undefined;
  readonly tt: number;
  readonly ff?: number;
  readonly dd?: string;
}
interface Smf extends Iterable<Iterable<Message>> {
  readonly ppqn: number;
}

beforeAll(() => smf(JZZ));

function pieceNamed(name: string): Piece {
  const read = readAbc(TRADITIONAL[name] ?? '');
  if (!read.ok || read.value.piece === undefined) throw new Error(`${name} cannot be read`);
  return read.value.piece;
}

/** What sounds at a time in seconds: keys that are down, bent as their wheel says. */
function soundingIn(bytes: Uint8Array): (seconds: number) => number[] {
  const { SMF } = JZZ.MIDI as unknown as { SMF: new (data: string) => Smf };
  const file = new SMF(String.fromCharCode(...bytes));
  const events = [...file].flatMap((track) => [...track]).sort((a, b) => a.tt - b.tt);
  const tempo = events.find(({ ff }) => ff === 0x51)?.dd ?? '';
  const [high = 0, middle = 0, low = 0] = [...tempo].map((sign) => sign.charCodeAt(0));
  // microseconds of a quarter note in three bytes (Standard MIDI Files 1.0); these tunes keep their tempo
  const perTick = ((high << 16) | (middle << 8) | low) / 1e6 / file.ppqn;
  return (seconds) => {
    const keys = new Map<number, number>();
    const wheels = new Map<number, number>();
    for (const event of events) {
      if (event.tt * perTick > seconds) break;
      const [status = 0, one = 0, two = 0] = [event[0], event[1], event[2]];
      const channel = status & 15;
      if (event.ff !== undefined) continue;
      if (status >> 4 === 14) wheels.set(channel, (two << 7) + one - 8192);
      if (status >> 4 === 9 && two > 0) keys.set(channel, one);
      else if (status >> 4 === 8 || status >> 4 === 9) keys.delete(channel);
    }
    // the wheel reaches 24 semitones each way, as the file says of itself
    return [...keys]
      .map(([channel, key]) => key + ((wheels.get(channel) ?? 0) * 24) / 8192)
      .map((pitch) => Math.round(pitch * 10) / 10)
      .sort((a, b) => a - b);
  };
}

const SETUPS: readonly BuiltInId[] = ['e9', 'c6', 'universal12'];
const CASES = Object.keys(TRADITIONAL).flatMap((name) =>
  SETUPS.flatMap((setup) => TEXTURES.map((texture) => ({ name, setup, texture }))),
);

describe('traditional tunes', () => {
  it('are ten, and are read without a fault', () => {
    expect(Object.keys(TRADITIONAL)).toHaveLength(10);
    for (const text of Object.values(TRADITIONAL)) {
      const read = readAbc(text);
      expect(read.ok && read.value.faults).toEqual([]);
    }
  });

  battery(
    'sound their tune in the MIDI file that is written, in any texture and struck in any way',
    { slice: 14, whole: CASES.length },
    async ({ of }) => {
      for (const [number, { name, setup: id, texture }] of of(CASES).entries()) {
        const setup = builtIn(id);
        const piece = pieceNamed(name);
        const textures = { texture, harmony: 'changes', measures: [] } as const;
        const { ways, lacks } = arrangeTune(setup, piece, textures, noWishes(false), 1);
        const what = `${name}, ${texture} on ${id}`;
        expect(
          lacks.filter((each) => each.lacks === 'all'),
          what,
        ).toEqual([]);
        const solved = ways[0]?.steps ?? [];
        const readBack = async (steps: readonly StruckStep[]) => {
          const kind = tuneFileKind('tune.mid');
          return soundingIn(
            (await kind?.write({ setup, piece, steps, paper: 'A4' })) ?? new Uint8Array(),
          );
        };
        // as it was solved: every string of every step, and nothing besides
        const plain = await readBack(struckSteps(setup, piece, solved, undefined));
        for (const { onset, strings } of solved)
          expect(
            plain(onset.seconds + onset.lastsSeconds * 0.45),
            `${what}, at ${onset.at}`,
          ).toEqual(strings.map(({ pitch }) => pitch).sort((a, b) => a - b));
        // a chord alone has the tune on top where both begin
        if (texture === 'chords') continue;
        // the slice takes them in turn
        const taken = LONG ? STRIKES : STRIKES.filter((_, at) => at === number % STRIKES.length);
        for (const strike of taken) {
          const at = await readBack(struckSteps(setup, piece, solved, { strike, parts: [] }));
          for (const note of voiceOf(inOrder(piece).notes)) {
            // chops are short; what is late begins in the first half, and a slide away from it in the second; an
            // eighth is bent into up to its middle, where another is slid away from already
            const isEighth = Math.abs(note.lastsSeconds - 30 / (piece.tempo ?? NaN)) < 0.001;
            const parts =
              strike === 'late' ? [0.62] : strike === 'bend' && isEighth ? [0.45, 0.56] : [0.45];
            const heard = parts.map((part) =>
              at(note.seconds + (strike === 'chop' ? 0.03 : note.lastsSeconds * part)).at(-1),
            );
            expect(heard, `${what}, ${strike}, at ${note.at}`).toContain(note.pitch.midi);
          }
        }
      }
    },
  );
});
