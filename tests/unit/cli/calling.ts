/** Calls the command line: the program itself, and where a process matters the built one. */
import { execFile, spawn } from 'node:child_process';
import { expect } from 'vitest';
import { ensureBundle } from '../../../scripts/lib/build.mjs';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { run } from '../../../src/cli/run';

const bundle = await ensureBundle('gripwright');

export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** A call of a process of its own, as a person or a script makes it. */
export const callProcess = (args: readonly string[], cwd = inRoot('.')): Promise<Said> =>
  new Promise((done) => {
    const how = { cwd, maxBuffer: 2 ** 27, encoding: 'utf8' } as const;
    execFile(process.execPath, [bundle, ...args], how, (error, out, err) => {
      done({ code: error === null ? 0 : Number(error.code ?? -1), out, err });
    });
  });

/** Keeps what is written to it. */
const heard = () => {
  const pieces: string[] = [];
  return {
    write: (text: string) => pieces.push(text),
    writable: true,
    text: () => pieces.join(''),
  };
};

/** The call before this one: they go one after the other. */
let before: Promise<unknown> = Promise.resolve();

/**
 * What a call prints and how it ends; called in the project's folder where no other is named. It is answered
 * without a process, for starting one takes ten times as long as most answers.
 */
export function call(args: readonly string[], folder = inRoot('.')): Promise<Said> {
  const said = before.then(async () => {
    const [out, err] = [heard(), heard()];
    const code = await run(args, { out, err, folder, asks: false });
    return { code, out: out.text(), err: err.text() };
  });
  before = said;
  return said;
}

/** The one JSON document of a call that succeeds and says nothing else. */
export async function json<T>(
  args: readonly string[],
  folder?: string,
  calling: typeof call = call,
): Promise<T> {
  const { code, out, err } = await calling([...args, '--json'], folder);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return JSON.parse(out) as T;
}

/** The readable answer of a call that succeeds. */
export async function text(args: readonly string[]): Promise<string> {
  const { code, out, err } = await call(args);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return out;
}

/** A call whose reader goes away after the first piece, as `head` does. */
export const callAndLeave = (args: readonly string[]): Promise<Said> =>
  new Promise((done) => {
    const child = spawn(process.execPath, [bundle, ...args]);
    let out = '';
    let err = '';
    child.stdout.once('data', (piece: Buffer) => {
      out = piece.toString();
      child.stdout.destroy();
    });
    child.stderr.on('data', (piece: Buffer) => (err += piece.toString()));
    child.on('close', (code) => {
      done({ code: code ?? -1, out, err });
    });
  });

/** As `voicings --json` prints it: model, section 13. */
export interface VoicingJson {
  readonly neck: number;
  readonly fret: number;
  readonly slant: number;
  readonly strings: readonly number[];
  readonly frets: readonly number[];
  readonly notes: readonly string[];
  readonly pitches: readonly number[];
  readonly tones: readonly string[];
  readonly missing: readonly string[];
  readonly ways: readonly (readonly { readonly id: string; readonly state: 'full' | 'half' }[])[];
  readonly octaves?: readonly number[];
  readonly effort: { total: number; feet: number; picking: number; bar: number; clarity: number };
}
export interface VoicingsJson {
  readonly chord: { symbol: string; root: string; bass?: string; pitchClasses: number[] };
  readonly searched: { combinations: number; candidates: number };
  readonly count: number;
  readonly voicings: readonly VoicingJson[];
}

export const voicings = (chord: string, ...options: string[]): Promise<VoicingsJson> =>
  json<VoicingsJson>(['voicings', '--chord', chord, ...options]);
/** Every voicing, not only those shown by default. */
export const allVoicings = async (chord: string, ...options: string[]) =>
  (await voicings(chord, '--limit', '0', ...options)).voicings;
