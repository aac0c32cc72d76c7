/** `scale`, `ladder`, `between`, `next`, `phrases`. What is expected was worked out by hand from the tunings and pulls. */
import { describe, expect, it } from 'vitest';
import { call, json } from './calling';

interface StepJson {
  readonly melody?: string;
  readonly chord?: string;
  readonly voicing: {
    readonly fret: number;
    strings: number[];
    notes: string[];
    pitches: number[];
  };
  readonly way: readonly { readonly id: string }[];
}

const E9 = ['--setup', 'e9'] as const;
const C_MAJOR = [0, 2, 4, 5, 7, 9, 11];

describe('scale', () => {
  interface ScaleJson {
    readonly notes: string[];
    readonly strings: {
      string: number;
      notes: string[];
      added: { control: string; note: string; degree: string }[];
    }[];
    readonly pockets?: { frets: [number, number]; tones: number; octaves: number }[];
  }

  it('tells the note of every string under the bar, and those that one control adds', async () => {
    const args = ['scale', '--scale', 'G mixolydian', '--fret', '3', ...E9];
    const { notes, strings } = await json<ScaleJson>(args);
    expect(notes.join(' ')).toBe('G A B C D E F');
    // three frets above F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2; F#4 on the second string is no note of the scale
    expect(strings.map((each) => each.notes.join())).toEqual([
      'A4',
      '',
      'B4',
      'G4',
      'D4',
      'B3',
      'A3',
      'G3',
      'F3',
      'D3',
    ]);
    const added = (string: number) =>
      strings[string - 1]?.added.map(({ control, note }) => `${control} ${note}`);
    // A and C raise the fifth string by a whole tone, B the third by a half
    expect(added(5)).toEqual(expect.arrayContaining(['A E4', 'C E4']));
    expect(added(3)).toContain('B C5');
  });

  it('ranks pockets, and prints the best run as tablature', async () => {
    const args = ['scale', '--scale', 'D dorian', '--pocket', '1', '--limit', '3', ...E9];
    const { pockets = [] } = await json<ScaleJson>(args);
    expect(pockets).toHaveLength(3);
    for (const { frets, tones } of pockets) {
      expect(frets[1] - frets[0]).toBe(1);
      expect(tones).toBe(7);
    }
    const { out } = await call(args);
    expect(out).toContain('Pockets of 1 fret');
    expect(out).toMatch(/^10 B +\|/m);
  });

  it.each([
    [['--scale', 'G mixolidian'], 'mixolydian'],
    [['--scale', 'G major', '--fret', '3', '--frets', '0-3'], '--frets'],
    [['--scale', 'G major', '--pocket', '4'], '--pocket'],
  ])('refuses %j with what is allowed', async (args, told) => {
    const { code, out, err } = await call(['scale', ...args, ...E9]);
    expect(code).toBeGreaterThan(0);
    expect(out).toBe('');
    expect(err).toContain(told);
  });
});

describe('ladder', () => {
  interface LadderJson {
    readonly rungs: (StepJson & { degree: string })[];
    readonly total: number;
  }

  it('goes up a scale in sixths, each with fret and controls', async () => {
    const args = ['ladder', '--scale', 'E major', '--strings', '3,5', '--frets', '0-12', ...E9];
    const { rungs } = await json<LadderJson>(args);
    // common practice: the open position, and A and B
    expect(
      rungs
        .slice(0, 6)
        .map(({ voicing, way }) => `${voicing.fret} ${way.map(({ id }) => id).join('+')}`),
    ).toEqual(['0 ', '0 A+B', '2 A+B', '5 ', '7 ', '7 A+B']);
    expect(rungs.slice(0, 4).map(({ degree }) => degree)).toEqual(['3', '4', '5', '6']);
  });

  it('goes up and down again with the highest rung once, in a table and as tablature', async () => {
    const both = ['ladder', '--scale', 'G major', '--interval', 'thirds', '--way', 'both', ...E9];
    const { rungs } = await json<LadderJson>(both);
    const notes = rungs.map(({ voicing }) => voicing.pitches.join());
    expect(notes).toEqual([...notes].reverse());
    expect(new Set(notes).size).toBe((notes.length + 1) / 2);
    const { out } = await call(both);
    expect(out).toContain('G major in thirds');
  });

  it('slants the bar where that is wished', async () => {
    const lap = ['--interval', 'thirds', '--strings', '1,2', '--setup', 'lap6-c6'];
    const args = ['ladder', '--scale', 'C major', ...lap];
    const slanted = await json<LadderJson>(args);
    const straight = await call([...args, '--slants', 'off']);
    // E over C is a major third: D-F needs the bar across two frets, and without it no two rungs are neighbours
    // but F-A and G-B
    expect(slanted.rungs.length).toBeGreaterThan(7);
    expect(straight.out).toContain('2 rungs');
  });

  it.each([
    [['--scale', 'A minor pentatonic', '--interval', 'triads'], 'seven notes'],
    [['--scale', 'E major', '--strings', '3'], '2 strings or more'],
  ])('refuses %j', async (args, told) => {
    const { code, err } = await call(['ladder', ...args, ...E9]);
    expect(code).toBe(1);
    expect(err).toContain(told);
  });
});

describe('between', () => {
  interface BetweenJson {
    readonly scale: string;
    readonly passages: { words: string; steps: StepJson[]; total: number }[];
  }

  it('leads from a position to a chord with notes of the scale, the easiest first', async () => {
    const args = ['between', '--from', '8/-/4-5-6', '--to', 'F', '--scale', 'C major', ...E9];
    const { passages } = await json<BetweenJson>(args);
    expect(passages.length).toBeGreaterThan(2);
    for (const { steps } of passages) {
      expect(steps[0]?.voicing).toMatchObject({ fret: 8, strings: [4, 5, 6] });
      const last = (steps.at(-1)?.voicing.pitches ?? []).map((pitch) => pitch % 12);
      // F A C
      for (const chroma of last) expect([5, 9, 0]).toContain(chroma);
      for (const { voicing } of steps)
        for (const pitch of voicing.pitches) expect(C_MAJOR).toContain(pitch % 12);
    }
    const totals = passages.map(({ total }) => total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
  });

  it('leads to another position of the chord', async () => {
    // C at fret 8 open, and at fret 3 with A and B
    const args = ['between', '--from', '8/-/4-5-6', '--to', '3/A,B/4-5-6', ...E9];
    const { passages } = await json<BetweenJson>(args);
    for (const { steps } of passages)
      expect(steps.at(-1)?.voicing).toMatchObject({ fret: 3, strings: [4, 5, 6] });
    expect((await call(args)).out).toContain('easiest first');
  });

  it('refuses what is no chord and no position', async () => {
    const { code, err } = await call(['between', '--from', '8/-/4-5-6', '--to', 'xyz', ...E9]);
    expect(code).toBeGreaterThan(0);
    expect(err).toContain('--to');
  });
});

describe('next', () => {
  it('tells the chords of the key with the bar still', async () => {
    const args = ['next', '--from', '3/-/4-5-6', '--key', 'G', ...E9];
    interface Led {
      readonly symbol: string;
      readonly number: string;
      readonly changes: number;
      readonly voicing: { fret: number; pitches: number[] };
    }
    const { key, chords } = await json<{ key: string; chords: Led[] }>(args);
    expect(key).toBe('G');
    for (const { number, changes, voicing } of chords) {
      expect(changes).toBeLessThanOrEqual(2);
      expect(voicing.fret).toBe(3);
      // secondary dominants borrow from other keys
      if (number.includes('/')) continue;
      // G A B C D E F#
      for (const pitch of voicing.pitches) expect([7, 9, 11, 0, 2, 4, 6]).toContain(pitch % 12);
    }
    // common practice: A alone makes the sixth degree's minor of the open chord, A and B the fourth
    expect(chords.find(({ number }) => number === 'vi')).toMatchObject({
      symbol: 'Em',
      changes: 1,
    });
    expect(chords.map(({ number }) => number)).toContain('IV');
    expect((await call(args)).out).toContain('with the bar still');
  });
});

describe('phrases', () => {
  it('lists at least two dozen, for openings, endings, turnarounds and fills', async () => {
    const { phrases } = await json<{ phrases: { use: string; mode: string; made: string }[] }>([
      'phrases',
    ]);
    expect(phrases.length).toBeGreaterThanOrEqual(24);
    expect(new Set(phrases.map(({ use }) => use))).toEqual(
      new Set(['opening', 'ending', 'turnaround', 'fill']),
    );
    expect(phrases.map(({ mode }) => mode)).toContain('minor');
    for (const { made } of phrases) expect(made).toMatch(/\.$/);
  });

  // from the fifth up: D G A B B in G, with thirds of G major below them
  it.each(['e9', 'c6', 'lap6-c6'])('places one of them on %s in a key', async (setup) => {
    const args = ['phrases', '--place', 'rise-in-thirds', '--key', 'G', '--setup', setup];
    const { steps } = await json<{ steps: StepJson[] }>(args);
    const letters = (each: StepJson) =>
      [...each.voicing.pitches].sort((a, b) => a - b).map((pitch) => pitch % 12);
    expect(steps.map(letters)).toEqual([
      [11, 2],
      [4, 7],
      [6, 9],
      [7, 11],
      [7, 11],
    ]);
    const { out } = await call(args);
    expect(out).toContain('Rise in thirds in G');
    // and as tablature, a line a string
    expect(out).toMatch(/^ *1 [A-G]\S? +\|/m);
  });

  it('has the bar straight where that is wished', async () => {
    const lap = ['--place', 'rise-in-thirds', '--key', 'G', '--setup', 'lap6-c6'];
    const { steps } = await json<{ steps: { voicing: { slant: number } }[] }>([
      'phrases',
      ...lap,
      '--slants',
      'off',
    ]);
    expect(steps.every(({ voicing }) => voicing.slant === 0)).toBe(true);
    expect((await call(['phrases', ...lap, '--slants', 'maybe'])).err).toContain('--slants');
  });

  it('tells which there are where one is not known', async () => {
    const { code, err } = await call(['phrases', '--place', 'nothing', ...E9]);
    expect(code).toBe(1);
    expect(err).toContain('rise-in-thirds');
  });
});

describe('what finds little or nothing says what near it finds more', () => {
  interface Broken {
    readonly rungs: unknown[];
    readonly brokenOff?: {
      why: string;
      more: { strings?: string; slants?: string; frets?: string; rungs: number }[];
    };
  }

  it('a ladder that breaks off: why, and options that have as many rungs as they say', async () => {
    // strings 2 and 5 of a C6, E4 over G3, are a major sixth: under a bar that lies straight the minor one of C over E
    // and of G over B is not there, for no control moves the fifth string alone but downward
    const args = ['ladder', '--scale', 'C major', '--strings', '2,5', '--setup', 'c6'];
    const { rungs, brokenOff } = await json<Broken>(args);
    expect(rungs).toHaveLength(2);
    expect(brokenOff?.why).toContain(
      'neither the R above (C5 over E4) nor the 5 below (G4 over B3)',
    );
    expect(brokenOff?.more.map(({ slants }) => slants)).toContain('on');
    for (const { rungs: many, ...change } of brokenOff?.more ?? []) {
      const texts = { strings: '2,5', ...change };
      const options = Object.entries(texts).flatMap(([option, value]) =>
        value === '' ? [] : [`--${option}`, value],
      );
      const found = await json<Broken>([...args.slice(0, 3), ...args.slice(5), ...options]);
      expect(found.rungs, options.join(' ')).toHaveLength(many);
      expect(many).toBeGreaterThan(2);
    }
    expect((await call(args)).out).toContain('More rungs: ');
    // a ladder of an octave says nothing of the kind
    const whole = await json<Broken>([
      'ladder',
      '--scale',
      'C major',
      '--strings',
      '3,6',
      '--setup',
      'c6',
    ]);
    expect(whole.brokenOff).toBeUndefined();
  });

  it('a ladder that there is not', async () => {
    const { code, err } = await call([
      'ladder',
      '--scale',
      'C major',
      '--interval',
      'octaves',
      '--strings',
      '1,2',
      ...E9,
    ]);
    expect(code).toBe(1);
    expect(err).toMatch(/no two neighbouring degrees in octaves[\s\S]*without --strings \(\d+\)/);
  });

  it('passages that there are not, with options that find as many as they say', async () => {
    const args = ['between', '--from', '0/-/1-2-3', '--setup', 'lap6-c6'];
    const { code, err } = await call([...args, '--to', 'F#m7b5', '--slants', 'off']);
    expect(code).toBe(1);
    // of the triads of A dorian A minor has three tones of it
    const [, to = '', count] = /--to "([^"]+)" \((\d+)\)/.exec(err) ?? [];
    expect(to).toBe('Am');
    const near = [...args, '--to', to, '--slants', 'off'];
    const { passages } = await json<{ passages: unknown[] }>(near);
    expect(passages).toHaveLength(Number(count));
  });

  it('pockets that there are not', async () => {
    // open G, B and D are G#, C and D# at the first fret, none of them of F# A B C# E; B is at the nut
    const field = ['--frets', '1-1', '--pocket', '0', '--setup', 'square6-g'];
    const { out } = await call(['scale', '--scale', 'F# minor pentatonic', ...field]);
    expect(out).toContain('The nearest is at --frets 0-0.');
  });
});
