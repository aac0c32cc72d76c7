/** `arrange`: JSON, tables, files and refusals, as a script or a person meets them. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseMidi } from 'midi-file';
import { afterAll, describe, expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { call, json, text } from './calling';

interface StepJson {
  readonly bar: number;
  readonly slot: number;
  readonly chord: string;
  readonly voicing: { readonly fret: number; readonly notes: string[]; readonly pitches: number[] };
  readonly way: { readonly id: string; readonly state: string }[];
}
interface ArrangeJson {
  readonly key: string;
  readonly ways: { readonly total: number; readonly steps: StepJson[] }[];
  readonly unread: { readonly where: string; readonly found: string }[];
  readonly unplayable: {
    readonly bar: number;
    readonly chord: string;
    readonly nearest: { readonly words: string; readonly count: number }[];
    readonly onePull?: { readonly with: string; readonly words: string; readonly count: number }[];
  }[];
}

const folder = mkdtempSync(join(tmpdir(), 'gripwright-arrange-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const arrange = (...args: string[]): Promise<ArrangeJson> => json(['arrange', ...args]);
const held = ({ way }: StepJson): string => way.map(({ id }) => id).join('+');

describe('the best way', () => {
  it('tells how far the bar goes in the units that are asked for', async () => {
    const far = ['arrange', '--setup', 'lap6-c6', '--chords', 'C | C', '--ways', '1'];
    const locks = ['--locks', '1=fret:0;2=fret:12'];
    // half the scale, which the octave is: see the setup
    const { scaleLengthMm } = JSON.parse(
      readFileSync(inRoot('shared/setups/lap6-c6.json'), 'utf8'),
    ) as { scaleLengthMm: number };
    const mm = scaleLengthMm / 2;
    expect(await text([...far, ...locks])).toContain(`the bar goes ${mm.toFixed(0)} mm`);
    expect(await text([...far, ...locks, '--units', 'us'])).toContain(
      `the bar goes ${(mm / 25.4).toFixed(2)} in`,
    );
  });

  it('of one, four, one with the bar at home is nothing, A and B, nothing: common practice', async () => {
    const { ways, key } = await arrange('--chords', 'G | C | G', '--home', '3', '--ways', '1');
    expect(key).toBe('G');
    expect(ways[0]?.steps.map((step) => [step.voicing.fret, held(step)])).toEqual([
      [3, ''],
      [3, 'A+B'],
      [3, ''],
    ]);
  });
  it('has the melody on top, and is moved to the key that is asked for', async () => {
    const { ways } = await arrange('--chords', 'C | F', '--melody', 'E4 | F4', '--to', 'D');
    for (const { steps } of ways)
      expect(steps.map(({ chord, voicing }) => [chord, Math.max(...voicing.pitches)])).toEqual([
        ['D', 66],
        ['G', 67],
      ]);
  });
  it('comes first of those asked for', async () => {
    const { ways } = await arrange('--chords', 'C | Am7 | Dm7 G7 | C', '--arrangements', '7');
    const totals = ways.map(({ total }) => total);
    expect(totals).toHaveLength(7);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
  });
});

it('tells what is nearest to a chord that cannot be played, and on request the one pull', async () => {
  const asked = ['--chords', 'G | Cmaj7', '--match', 'complete', '--sizes', '4-4'];
  const tight = [...asked, '--frets', '3-3'];
  const { unplayable, ways } = await arrange(...tight, '--one-pull');
  expect(unplayable).toMatchObject([{ bar: 2, chord: 'Cmaj7' }]);
  expect(ways[0]?.steps.map(({ chord }) => chord)).toEqual(['G']);
  const [pull] = unplayable[0]?.onePull ?? [];
  if (pull === undefined) throw new Error('no pull');
  // the promise held against another job: with that control the chord is found
  const found = await json<{ count: number }>([
    ...['voicings', '--chord', 'Cmaj7', '--match', 'complete', '--sizes', '4-4', '--frets', '3-3'],
  ]);
  expect(found.count).toBe(0);
  const [, station = '', string = '', semitones = ''] =
    /^(\w+):(\d+)([+-]\d)$/u.exec(pull.with) ?? [];
  const e9 = JSON.parse(readFileSync(inRoot('shared/setups/e9.json'), 'utf8')) as {
    controls: object[];
  };
  const pulls = [{ string: Number(string), semitones: Number(semitones) }];
  const setup = join(folder, 'pulled.json');
  writeFileSync(
    setup,
    JSON.stringify({ ...e9, controls: [...e9.controls, { id: station, station, pulls }] }),
  );
  const given = await json<{ count: number }>([
    ...['voicings', '--setup', setup, '--chord', 'Cmaj7', '--match', 'complete'],
    ...['--sizes', '4-4', '--frets', '3-3'],
  ]);
  expect(given.count).toBeGreaterThan(0);
  expect(await text(['arrange', ...tight, '--one-pull'])).toContain(
    `One pull more would give it: ${pull.words}`,
  );
  expect((await arrange(...tight)).unplayable[0]).not.toHaveProperty('onePull');
});

it('tells what it could not read, where, and takes the rest', async () => {
  const { unread, ways } = await arrange('--chords', 'C | Hx | G');
  expect(unread).toMatchObject([{ found: '“Hx”' }]);
  expect(ways[0]?.steps.map(({ chord }) => chord)).toEqual(['C', 'G']);
});

describe('files', () => {
  it('are read by their ending', async () => {
    const song = join(folder, 'evening.cho');
    writeFileSync(song, '{title: Evening at the mill}\n[C]Down by the [Am7]mill [G7]pond\n');
    const { ways } = await arrange('--file', song);
    expect(ways[0]?.steps.map(({ chord }) => chord)).toEqual(['C', 'Am7', 'G7']);
  });
  it.each([
    ['musicxml', '<?xml'],
    ['mid', 'MThd'],
    ['svg', '<?xml'],
    ['pdf', '%PDF-'],
    ['txt', ''],
    ['abc', 'X:'],
    ['cho', '{'],
  ])('are written as .%s', async (ending, begins) => {
    const path = join(folder, `way.${ending}`);
    const said = await call(['arrange', '--chords', 'C | F | C', '--out', path]);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' });
    const content = readFileSync(path, 'latin1');
    expect(content.startsWith(begins)).toBe(true);
    expect(content.length).toBeGreaterThan(20);
  });
  it('are sound too: 16-bit PCM that begins on the first beat and has nothing before it', async () => {
    const path = join(folder, 'way.wav');
    // a bar is 2.4 s; the last chord rings for 1.5 s more, and the room for 1 s
    const said = await call(['arrange', '--chords', 'C | F | C', '--out', path]);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' });
    const bytes = readFileSync(path);
    expect(bytes.toString('latin1', 0, 4) + bytes.toString('latin1', 8, 16)).toBe('RIFFWAVEfmt ');
    // PCM; channels, samples a second, bits
    expect(bytes.readUInt16LE(20)).toBe(1);
    const [channels, rate] = [bytes.readUInt16LE(22), bytes.readUInt32LE(24)];
    expect([channels, rate, bytes.readUInt16LE(34)]).toEqual([2, 48_000, 16]);
    const seconds = bytes.readUInt32LE(40) / (rate * channels * 2);
    expect(seconds).toBeCloseTo(3 * 2.4 + 1.5 + 1, 2);
    // root of the mean square of the left channel between two times
    const level = (from: number, to: number): number => {
      let sum = 0;
      for (let frame = Math.round(from * rate); frame < Math.round(to * rate); frame++)
        sum += (bytes.readInt16LE(44 + frame * channels * 2) / 32_768) ** 2;
      return Math.sqrt(sum / ((to - from) * rate));
    };
    expect(level(0, 0.02)).toBeGreaterThan(0.01);
    const chords = [0, 2.4, 4.8].map((at) => 20 * Math.log10(level(at + 0.15, at + 0.55)));
    expect(Math.max(...chords) - Math.min(...chords)).toBeLessThan(12);
  });

  it('have a band in them where one is asked for: two-beat, root on 1 and fifth on 3', async () => {
    const path = join(folder, 'band.mid');
    const asked = ['arrange', '--chords', 'C | F/A', '--band', 'Two-beat', '--out', path];
    const said = await call(asked);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' });
    const { header, tracks } = parseMidi(readFileSync(path));
    /** Beats and keys of what begins on the track of a name. */
    const begun = (name: string): [number, number][] => {
      const own = tracks.find((track) =>
        track.some((event) => event.type === 'trackName' && event.text === name),
      );
      let tick = 0;
      return (own ?? []).flatMap((event): [number, number][] => {
        tick += event.deltaTime;
        return event.type === 'noteOn'
          ? [[tick / (header.ticksPerBeat ?? NaN), event.noteNumber]]
          : [];
      });
    };
    // C2 and G1; A1 under the slash, and the fifth of F is C2. MIDI numbers by scientific pitch
    expect(begun('Bass')).toEqual([
      [0, 36],
      [2, 31],
      [4, 33],
      [6, 36],
    ]);
    // General MIDI 1, percussion: 36 is the bass drum
    expect(begun('Drums').filter(([, key]) => key === 36)).toEqual(
      [0, 2, 4, 6].map((beat) => [beat, 36]),
    );
    expect(new Set(begun('Chords').map(([beat]) => beat))).toEqual(new Set([1, 3, 5, 7]));
  });
  it('refuse a band that there is not, and one that nobody would hear', async () => {
    const band = (...more: string[]) => call(['arrange', '--chords', 'C', '--band', ...more]);
    const unknown = await band('polka', '--out', join(folder, 'x.mid'));
    expect(unknown.code).toBe(2);
    expect(unknown.err).toContain('--band: found “polka”; allowed are two-beat, train beat');
    const unheard = await band('waltz', '--out', join(folder, 'x.txt'));
    expect([unheard.code, unheard.err]).toEqual([2, expect.stringContaining('.mid, .midi, .wav')]);
    expect((await band('waltz')).code).toBe(2);
  });

  it('of sound are refused where it would last too long', async () => {
    const bars = Array.from({ length: 120 }, () => 'C').join(' | ');
    const path = join(folder, 'long.wav');
    // 120 bars of 12 s, and what rings after
    const said = await call([
      'arrange',
      '--chords',
      `tempo: 20\n${bars}`,
      '--ways',
      '1',
      '--out',
      path,
    ]);
    expect(said.code).toBe(1);
    expect(said.err).toContain('It would sound for 25 minutes; allowed are 20.');
  });

  it('are refused by name where there is none of that name or kind', async () => {
    const missing = await call(['arrange', '--file', join(folder, 'none.cho')]);
    expect(missing).toMatchObject({ code: 1, out: '' });
    expect(missing.err).toContain('there is no such file');
    const odd = await call(['arrange', '--chords', 'C', '--out', join(folder, 'way.xyz')]);
    expect(odd).toMatchObject({ code: 2, out: '' });
    expect(odd.err).toContain('.musicxml');
  });
});

it.each([
  [[], 2, '--chords or --file'],
  [['--chords', 'C', '--ways', '21'], 2, '1 to 20'],
  // readable, but no fret of any setup
  [['--chords', 'C', '--frets', '9-3'], 1, '--frets'],
  [['--chords', 'C', '--must', 'x'], 2, '--must'],
  [['--chords', 'C', '--to', 'H'], 2, '--to'],
])('refuses %j with a sentence', async (args, expected, says) => {
  const { code, out, err } = await call(['arrange', ...args]);
  expect({ code, out }).toEqual({ code: expected, out: '' });
  expect(err).toContain(says);
  expect(err).not.toMatch(/^\s+at /m);
});

it('of nothing to play is a refusal, not an empty answer', async () => {
  const { code, err } = await call(['arrange', '--chords', 'N.C.']);
  expect(code).toBe(1);
  expect(err).toContain('no chord');
});

describe('how chords are struck', () => {
  const chords = ['--chords', 'C | F', '--ways', '1'];

  it('is told in time, and leaves them where they are held', async () => {
    interface Struck extends ArrangeJson {
      readonly struck: { of: number; at: number; strike?: string }[];
    }
    const plain = await arrange(...chords);
    expect(plain).not.toHaveProperty('struck');
    const { struck, ways } = await json<Struck>(['arrange', ...chords, '--strike', 'beats;2=chop']);
    expect(ways).toEqual(plain.ways);
    // four beats of the first measure, the back beats of the second
    expect(struck.map(({ of, at }) => [of, at])).toEqual(
      [0, 1, 2, 3, 5, 7].map((at) => [at < 4 ? 0 : 1, at]),
    );
  });

  it('is written: more strokes in MIDI, a pattern above the tablature', async () => {
    const strokes = async (...more: string[]): Promise<number> => {
      const path = join(folder, 'struck.mid');
      rmSync(path, { force: true });
      await text(['arrange', ...chords, ...more, '--out', path]);
      // a key going down with a velocity, in any channel
      return [
        ...readFileSync(path)
          .toString('latin1')
          .matchAll(/[\x90-\x9f][\x1e-\x64][\x01-\x7f]/gu),
      ].length;
    };
    const usual = await strokes();
    expect(await strokes('--strike', 'beats')).toBeGreaterThanOrEqual(2 * usual);
    const tab = join(folder, 'struck.txt');
    await text(['arrange', ...chords, '--strike', 'rolled', '--out', tab]);
    expect(readFileSync(tab, 'utf8')).toContain('rolled');
  });
});

describe('staves on paper', () => {
  it('stand above the tablature of a tune, and of chords, without a page', async () => {
    const [pdf, svg] = [join(folder, 'staff.pdf'), join(folder, 'staff.svg')];
    const melody = ['--melody', 'G4 E4', '--texture', 'line', '--staff'];
    const said = await text(['arrange', '--chords', 'C C', ...melody, '--out', pdf]);
    expect(said).toContain('staff and tablature');
    expect(readFileSync(pdf, 'latin1').startsWith('%PDF-')).toBe(true);
    await text(['arrange', '--chords', 'G7 | C', '--staff', '--signs', 'numbers', '--out', svg]);
    const drawn = readFileSync(svg, 'utf8');
    // clef, signs and heads are outlines; the chord signs are words, their figures raised
    expect(drawn.match(/<path/gu)?.length).toBeGreaterThan(10);
    expect(drawn).toMatch(/>5<.*>7</su);
    expect(globalThis).not.toHaveProperty('document');
  });

  it.each([
    [['--staff'], 'allowed is --out with .pdf or .svg'],
    [['--staff', '--out', 'staff.mid'], 'allowed is --out with .pdf or .svg'],
    [['--signs', 'numbers'], 'with --staff'],
    [['--staff', '--signs', 'dots', '--out', 'staff.pdf'], '--signs: found “dots”'],
  ])('are refused with %j', async (args, words) => {
    const said = await call(['arrange', '--chords', 'C', ...args]);
    expect(said).toMatchObject({ code: 2, out: '' });
    expect(said.err).toContain(words);
  });
});

describe('a tune in a texture', () => {
  interface TuneJson {
    readonly ways: {
      readonly total: number;
      readonly steps: {
        readonly at: number;
        readonly lasts: number;
        readonly strings: {
          readonly string: number;
          readonly pitch: number;
          readonly reached: string;
          readonly melody: boolean;
        }[];
        readonly effort: { readonly total: number };
        readonly move: { readonly total: number };
      }[];
    }[];
  }
  const TUNE = ['--chords', 'C C C C | F F G7 G7', '--melody', 'G4 E4 F4 G4 | A4 C5 B4 D5'];
  const tune = (...args: string[]): Promise<TuneJson> => json(['arrange', ...TUNE, ...args]);

  it('has every note at its beat, on strings that say how they are reached; the total is their sum', async () => {
    const { ways } = await tune('--texture', 'line', '--ways', '2');
    expect(ways).toHaveLength(2);
    const [{ steps, total } = { steps: [], total: 0 }] = ways;
    expect(steps.map(({ at, lasts }) => [at, lasts])).toEqual(
      [0, 1, 2, 3, 4, 5, 6, 7].map((at) => [at, 1]),
    );
    expect(steps.map(({ strings }) => strings.map(({ pitch }) => pitch))).toEqual(
      [67, 64, 65, 67, 69, 72, 71, 74].map((pitch) => [pitch]),
    );
    for (const { strings } of steps)
      for (const { reached, melody } of strings) {
        expect(['picked', 'pull', 'slide', 'rings']).toContain(reached);
        expect(melody).toBe(true);
      }
    const sum = steps.reduce((so, { effort, move }) => so + effort.total + move.total, 0);
    expect(total).toBeCloseTo(sum, 6);
  });

  it('takes other textures for some measures', async () => {
    const { ways } = await tune('--texture', 'line', '--measures', '2=sixths', '--ways', '1');
    expect(ways[0]?.steps.map(({ strings }) => strings.length)).toEqual([1, 1, 1, 1, 2, 2, 2, 2]);
  });

  it('is written as sound and as MIDI', async () => {
    for (const [name, head] of [
      ['tune.wav', 'RIFF'],
      ['tune.mid', 'MThd'],
    ] as const) {
      const out = join(folder, name);
      await text(['arrange', ...TUNE, '--texture', 'thirds', '--out', out]);
      expect(readFileSync(out).subarray(0, 4).toString('latin1')).toBe(head);
    }
  });

  it.each([
    [['--texture', 'fourths'], '--texture: found “fourths”'],
    [['--texture', 'chord-melody', '--harmony', 'often'], '--harmony: found “often”'],
    [['--measures', 'two=line'], '--measures: found “two=line”'],
    [['--texture', 'line', '--out', 'tune.doc'], '--out: found “tune.doc”'],
  ])('refuses %j with what is allowed', async (args, words) => {
    const said = await call(['arrange', ...TUNE, ...args]);
    expect(said.code).toBe(2);
    expect(said.err).toContain(words);
    expect(said.err).toContain('allowed');
  });
});
