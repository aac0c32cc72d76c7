/** What a player may expect of the best ways, on the built-in setups. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { moveBetween } from '$lib/effort/move';
import { arrange, prepareAll, readyFor, type ArrangedWay } from '$lib/arrange/arrange';
import { bestWays } from '$lib/arrange/bestWays';
import type { Progression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { transposed } from '$lib/arrange/transposed';
import { noWishes, type StepWishes, type Wishes } from '$lib/arrange/wishes';
import { plainBest } from '../../bench/floor';

const e9 = builtIn('e9');
const TUNE = 'C | Am7 | Dm7 G7 | C';
const wishes = (besides: Partial<Wishes> = {}): Wishes => ({ ...noWishes(false), ...besides });
const progression = (text: string) => readProgression(text).progression;
const best = (text: string, besides: Partial<Wishes> = {}, most = 1) =>
  arrange(e9, progression(text), wishes(besides), most);
const first = (text: string, besides: Partial<Wishes> = {}): ArrangedWay => {
  const [way] = best(text, besides).ways;
  if (way === undefined) throw new Error(`no way through ${text}`);
  return way;
};
const atStep = (place: number, own: StepWishes) => ({ steps: new Map([[place, own]]) });
const heldAs = ({ steps }: ArrangedWay) =>
  steps.map(
    ({ hold }) =>
      `${hold.fret} ${hold.engaged.map(({ id }) => id).join('+')} ${hold.strings.join('-')}`,
  );
const thousandths = (value: number): number => Math.round(value * 1000);

describe('a total', () => {
  it('is the sum of all efforts and moves, and of its parts', () => {
    for (const { total, steps, parts } of best(TUNE, { home: 3 }, 20).ways) {
      const sum = steps.reduce(
        (all, { effort, move }) => all + thousandths(effort.total) + thousandths(move.total),
        0,
      );
      expect(sum).toBe(thousandths(total));
      const { bar, picking, feet, voices, clarity, wish } = parts;
      expect(thousandths(bar + picking + feet + voices + clarity + wish)).toBe(sum);
      expect(thousandths(parts.held + parts.moved)).toBe(sum);
    }
  });
  it('is never better for a wish', () => {
    const free = first(TUNE).total;
    const asked: Partial<Wishes>[] = [
      { frets: [3, 6] },
      { sizes: [4, 4] },
      { without: ['A'] },
      { match: 'complete' },
      { must: [1] },
      { prefer: [[6, 8, 10]] },
      { avoid: [[3, 4, 5]] },
      { home: 0 },
      { pocket: 1 },
      { endAsBegun: true },
      atStep(1, { fret: 5 }),
      atStep(3, { top: { midi: 74 } }),
    ];
    for (const wish of asked)
      expect(first(TUNE, wish).total, JSON.stringify(wish)).toBeGreaterThanOrEqual(free);
  });
  it('is never worse than taking the cheapest next voicing each time', () => {
    for (const text of [TUNE, 'F | Bb7 | Eb6 | Am7b5 D7 | Gm', 'E | C#m | A | B7 | E']) {
      let greedy = 0;
      let last: ArrangedWay['steps'][number] | undefined;
      for (const { chord } of prepareAll(e9, progression(text), wishes()).values()) {
        let least = Infinity;
        let chosen = last;
        // each candidate alone, in the order of its effort
        for (const { steps } of arrange(e9, progression(chord.symbol), wishes(), 2000).ways) {
          const [step] = steps;
          if (step === undefined) continue;
          const move = last === undefined ? 0 : moveBetween(e9, last.hold, step.hold).total;
          if (step.effort.total + move < least) [least, chosen] = [step.effort.total + move, step];
        }
        greedy += least;
        last = chosen;
      }
      expect(first(text).total).toBeLessThanOrEqual(greedy + 1e-9);
    }
  });
});

describe('time', () => {
  it('is that of the moment: a change of tempo makes the moves after it hurried, and none before', () => {
    // the chords a fret apart, so that the bar moves each time: 4 s a bar at 60, 0.6 s at 400
    const { progression: chords } = readProgression('E | F | E | F');
    const locked = wishes({
      steps: new Map([0, 1, 2, 3].map((step) => [step, { fret: step % 2 }])),
    });
    const bars = (piece: Progression) =>
      arrange(e9, piece, locked, 1).ways[0]?.steps.map(({ move }) => move.bar);
    const slow = { ...chords, tempo: 60 };
    const [, calm] = bars(slow) ?? [];
    // from the third bar on; fret 0 to 1 on 610 mm is 610 · (1 − 2^(−1/12)) = 34.24 mm, at 0.005 a millimetre;
    // in 0.6 s as much more as 1/0.6 − 1 of it
    expect(calm).toBeCloseTo(1 + 0.005 * 34.24, 2);
    const hurried = 1 + (0.005 * 34.24) / 0.6;
    const later = bars({ ...slow, tempos: [{ at: 8, tempo: 400 }] });
    expect(later?.slice(0, 3)).toEqual([0, calm, calm]);
    expect(later?.[3]).toBeCloseTo(hurried, 2);
  });
});

describe('the best ways', () => {
  it('cost what a plain dynamic program finds, in long pieces that come back to what they had too', () => {
    const chords = 'C | Am7 | Dm7 G7 | C | F | Bb7 | E7 | Am7';
    for (const text of [chords, `${chords} | ${chords} | ${chords} | ${chords} | F | C`])
      // with no control everything that is engaged is needed, as in the plain program
      for (const without of [
        ['A', 'B', 'C', 'LKL', 'LKR', 'LKV', 'RKL', 'RKR'],
        ['A', 'LKV'],
      ]) {
        const own = wishes({ without, match: 'rootless', sizes: [2, 3] });
        const ready = readyFor(e9, progression(text), own);
        const [found] = bestWays({ ...ready.question, most: 1 });
        const plain = plainBest(ready.question);
        if (without.length > 2) expect(found?.cost).toBe(plain);
        else expect(found?.cost).toBeLessThanOrEqual(plain);
        // nine more are dearer, and the first of ten is the same
        const [first] = bestWays({ ...ready.question, most: 10 });
        expect(first).toEqual(found);
      }
  });
  it('are the same backwards through the chords the other way round', () => {
    // without a home fret nothing tells the end from the beginning
    const forth = best('C | F | Dm7 | G7', {}, 20).ways;
    const back = best('G7 | Dm7 | F | C', {}, 20).ways;
    expect(back.map(({ total }) => total)).toEqual(forth.map(({ total }) => total));
    const turned = back.map((way) => heldAs(way).reverse().join());
    const level = forth.filter(({ total }) => total < (forth.at(-1)?.total ?? 0));
    for (const way of level) expect(turned).toContain(heldAs(way).join());
  });
  it('lie an octave of frets higher where the frets ask for it, and nothing else changes', () => {
    // beyond fret 12 the reach counts, and bar ways shorten: with the bar part at nothing all is level
    const balance = { feet: 1, picking: 1, bar: 0, clarity: 1, voices: 1 };
    const low = best(TUNE, { frets: [0, 11], balance }, 10).ways;
    const high = best(TUNE, { frets: [12, 23], balance }, 10).ways;
    expect(high.map(({ total }) => total)).toEqual(low.map(({ total }) => total));
    expect(high.map(({ steps }) => steps.map(({ hold }) => hold.fret - 12))).toEqual(
      low.map(({ steps }) => steps.map(({ hold }) => hold.fret)),
    );
  });
  it('move up with the key', () => {
    const balance = { feet: 1, picking: 1, bar: 0, clarity: 1, voices: 1 };
    const low = arrange(e9, progression(TUNE), wishes({ frets: [0, 11], balance }), 5).ways;
    const up = transposed(progression(TUNE), 5);
    const high = arrange(e9, up, wishes({ frets: [5, 16], balance }), 5).ways;
    expect(high.map(({ total }) => total)).toEqual(low.map(({ total }) => total));
  });
  it('come in order, each once', () => {
    const { ways } = best(TUNE, {}, 20);
    expect(ways).toHaveLength(20);
    const totals = ways.map(({ total }) => total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
    expect(new Set(ways.map((way) => heldAs(way).join())).size).toBe(20);
    expect(best(TUNE, {}, 5).ways).toEqual(ways.slice(0, 5));
  });
});

describe('common practice of the trade, no published source', () => {
  it('I–IV–I is nothing, A+B, nothing with the bar still', () => {
    for (const [one, four] of [
      ['C', 'F'],
      ['G', 'C'],
      ['E', 'A'],
      ['Bb', 'Eb'],
    ]) {
      const [a, b, c] = first(`${one} | ${four} | ${one}`).steps;
      expect([a, b, c].map((step) => step?.way.map(({ id }) => id).join('+'))).toEqual([
        '',
        'A+B',
        '',
      ]);
      expect([b?.move.barMm, c?.move.barMm]).toEqual([0, 0]);
    }
  });
  it('but not when feet are made dear', () => {
    const { steps } = first('C | F | C', {
      balance: { feet: 10, picking: 1, bar: 1, clarity: 1, voices: 1 },
    });
    expect(steps.flatMap(({ way }) => way)).toEqual([]);
  });
  it('I–vi is nothing, A', () => {
    const { steps } = first('C | Am | C');
    expect(steps.map(({ way }) => way.map(({ id }) => id).join('+'))).toEqual(['', 'A', '']);
    expect(steps.map(({ move }) => move.barMm)).toEqual([0, 0, 0]);
  });
  it('V lies two frets up under A+B, V7 at the same fret under B+LKR', () => {
    const up = first('C | G', { ...atStep(0, { fret: 8 }), frets: [8, 10] });
    const places = best('C | G', { frets: [8, 10] }, 200).ways.map((way) => heldAs(way).join(', '));
    expect(places).toContain('8  3-4-5, 10 A+B 3-4-5');
    expect(up.steps[0]?.hold.fret).toBe(8);
    const { steps } = first('C | G7 | C');
    expect(steps.map(({ way }) => way.map(({ id }) => id).join('+'))).toEqual(['', 'B+LKR', '']);
    expect(steps.map(({ move }) => move.barMm)).toEqual([0, 0, 0]);
  });
  it('a bar that stays while controls bend the same strings is the cheapest way to another chord', () => {
    const still = first('C | F | C').steps[1]?.move;
    expect(still).toMatchObject({ bar: 0, picking: 0, held: [3, 4, 5] });
    const bars = best('C | F | C', {}, 2000).ways.flatMap(({ steps }) => steps.slice(1));
    for (const { move } of bars)
      if (move.barMm > 0) expect(move.total).toBeGreaterThan(still?.total ?? Infinity);
  });
});

describe('wishes', () => {
  const pitchesOf = (way: ArrangedWay) =>
    way.steps.map(({ voicing }) => Math.max(...voicing.pitches));

  it('the melody is on top, at its pitch or in any octave', () => {
    // E5 A4 F5 F5 E5 in MIDI: 76 69 77 77 76
    const text = 'C:E5 | Am7:A4 | Dm7:F5 G7:F5 | C:E5';
    expect(pitchesOf(first(text))).toEqual([76, 69, 77, 77, 76]);
    const classes = pitchesOf(first(text, { melody: 'octave' })).map((pitch) => pitch % 12);
    expect(classes).toEqual([4, 9, 5, 5, 4]);
    expect(first(text, { melody: 'off' }).total).toBeLessThanOrEqual(first(text).total);
  });
  it('a melody note foreign to its chord sounds on top of it', () => {
    const { steps } = first('C:D5');
    expect(Math.max(...(steps[0]?.voicing.pitches ?? []))).toBe(74);
    expect(steps[0]?.tones.find(({ chroma }) => chroma === 2)?.degree).toBe('9');
  });
  it('frets, sizes, controls and tones are kept to', () => {
    const { ways } = best(
      'C9 | F | G7 | C',
      { frets: [5, 9], sizes: [3, 3], without: ['LKR'], must: [3] },
      20,
    );
    for (const { steps } of ways)
      for (const { hold, voicing } of steps) {
        expect(hold.fret).toBeGreaterThanOrEqual(5);
        expect(hold.fret).toBeLessThanOrEqual(9);
        expect(hold.strings).toHaveLength(3);
        expect(hold.engaged.map(({ id }) => id)).not.toContain('LKR');
        expect(voicing.missing).not.toContain('3');
      }
    for (const { steps } of best('C | F', { must: [1, 5] }, 20).ways)
      for (const { voicing } of steps) expect(voicing.missing).toEqual([]);
  });
  it('a preferred grip is used where it costs little', () => {
    for (const { hold } of first('C | F | C', { prefer: [[6, 8, 10]] }).steps)
      expect(hold.strings).toEqual([6, 8, 10]);
    for (const { hold } of first('C | F | C', {
      avoid: [
        [3, 4, 5],
        [4, 5, 6],
      ],
    }).steps)
      expect(hold.strings).toEqual([5, 6, 8]);
  });
  it('a pocket is never left', () => {
    const { ways, clashes } = best('C | F | G | Am', { pocket: 2 }, 20);
    expect(clashes).toEqual([]);
    for (const { steps } of ways) {
      const frets = steps.map(({ hold }) => hold.fret);
      expect(Math.max(...frets) - Math.min(...frets)).toBeLessThanOrEqual(2);
    }
  });
  it('the bar ends where it began', () => {
    for (const { steps } of best('C | F | D7 | G', { endAsBegun: true }, 10).ways)
      expect(steps.at(-1)?.hold.fret).toBe(steps[0]?.hold.fret);
  });
  it('home is where the bar comes from', () => {
    const { steps } = first('C', { home: 8 });
    expect(steps[0]).toMatchObject({ hold: { fret: 8 }, move: { total: 0, barMm: 0 } });
    // fret 8 to 12 on 610 mm: 610 · (2^(−8/12) − 2^(−12/12)) = 610 · (0.62996 − 0.5) = 79.28 mm
    expect(first('E', { home: 8, frets: [12, 12] }).steps[0]?.move.barMm).toBeCloseTo(79.28, 1);
  });
});

describe('locks', () => {
  it('keep a voicing, a fret or a top note, and the rest is solved around them', () => {
    const [, second] = first(TUNE).steps;
    const other = arrange(e9, progression('Am7'), wishes(), 200).ways[150]?.steps[0];
    if (second === undefined || other === undefined) throw new Error('no way');
    const locked = first(TUNE, atStep(1, { hold: other.hold }));
    expect(locked.steps[1]?.hold).toEqual(other.hold);
    expect(first(TUNE, atStep(1, { fret: 5 })).steps[1]?.hold.fret).toBe(5);
    const top = first(TUNE, atStep(1, { top: { midi: 72 } })).steps[1];
    expect(Math.max(...(top?.voicing.pitches ?? []))).toBe(72);
    // a lock on what is best anyway changes nothing
    expect(first(TUNE, atStep(1, { hold: second.hold }))).toEqual(first(TUNE));
  });
});

describe('what cannot be had', () => {
  it('is passed over and told with what is nearest, the rest being solved', () => {
    // C2 lies below every string of the neck
    const { ways, unplayable } = best('C | F:C2 | N.C. | G');
    expect(ways[0]?.steps.map(({ chord }) => chord.symbol)).toEqual(['C', 'G']);
    expect(unplayable).toMatchObject([{ index: 1, chord: { symbol: 'F' } }]);
    const words = unplayable[0]?.nearest.map((each) => each.words);
    expect(words).toContain('with C on top in any octave');
    for (const { change, count } of unplayable[0]?.nearest ?? []) {
      expect(count).toBeGreaterThan(0);
      expect(best('C | F:C2 | N.C. | G', { steps: new Map([[1, change]]) }).unplayable).toEqual([]);
    }
  });
  it('is a melody too high by an octave', () => {
    // fret 24 on string 3, G♯4 raised to A4: the highest is A6; C7 is beyond, C6 within
    const nearest = best('F:C7').unplayable[0]?.nearest[0];
    expect(nearest?.words).toBe('with the melody an octave lower');
  });
  it('is a pocket too narrow; the narrowest is named', () => {
    const { ways, clashes } = best('C | F#', {
      pocket: 0,
      without: ['A', 'B', 'C', 'LKL', 'LKR', 'LKV', 'RKL', 'RKR'],
    });
    expect(ways).toHaveLength(1);
    // open strings hold E, B and, without its fifth, D: C lies at 8, 1, 10 and F♯ at 2, 7, 4
    // (and an octave up), never at one fret, but at 8 and 7
    expect(clashes).toMatchObject([{ wish: 'pocket' }]);
    expect(clashes[0]?.words).toContain('one fret');
  });
  it('is a lock on a voicing of another chord', () => {
    const [step] = first('C').steps;
    const { unplayable } = best('F', atStep(0, { hold: step?.hold ?? (undefined as never) }));
    expect(unplayable[0]?.nearest[0]?.words).toBe('without its lock');
  });
  it('is a way through nothing', () => {
    expect(best('').ways).toEqual([]);
    expect(best('N.C.').ways).toEqual([]);
  });
});
