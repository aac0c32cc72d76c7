/** Arrangements that differ, each held to what it is told by; and as many as asked where copies are folded. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { alternatives } from '$lib/arrange/alternatives';
import { arrange, type ArrangedWay } from '$lib/arrange/arrange';
import { placeText } from '$lib/arrange/characters';
import { readProgression } from '$lib/arrange/readText';
import { noWishes, type Wishes } from '$lib/arrange/wishes';

const e9 = builtIn('e9');
const AIR = 'G | Em | C | D7 | G | Am7 | D7 | G';
const wishes: Wishes = noWishes(false);
const { progression } = readProgression(AIR);
const pathOf = ({ steps }: ArrangedWay) => steps.map(({ hold }) => placeText(hold)).join(' ');

describe('folded arrangements', () => {
  it('are as many as asked, no two of one path, and the cheapest of each path', () => {
    const { ways } = arrange(e9, progression, wishes, 8, 'positions');
    expect(ways).toHaveLength(8);
    const paths = ways.map(pathOf);
    expect(new Set(paths).size).toBe(8);
    // the same found among all, near-copies and all
    const seen: string[] = [];
    const totals: number[] = [];
    for (const way of arrange(e9, progression, wishes, 400).ways) {
      if (seen.includes(pathOf(way))) continue;
      seen.push(pathOf(way));
      totals.push(way.total);
    }
    expect(totals.length).toBeGreaterThan(3);
    const many = Math.min(8, totals.length);
    expect(ways.slice(0, many).map(({ total }) => total)).toEqual(totals.slice(0, many));
  });
});

describe('alternatives', () => {
  const [best] = arrange(e9, progression, wishes, 1).ways;
  if (best === undefined) throw new Error('no way');
  const found = alternatives(e9, progression, wishes, best);
  const frets = ({ steps }: ArrangedWay): number[] => steps.map(({ hold }) => hold.fret);
  const barMoves = ({ steps }: ArrangedWay): number =>
    steps.filter(({ move }) => move.barMm > 0).length;
  const of = (character: string): ArrangedWay =>
    found.others.find((other) => other.character === character)?.way ?? best;

  it('tell every character once, as another arrangement or as the best one', () => {
    const told = [...found.best, ...found.others.map(({ character }) => character)];
    expect(new Set(told).size).toBe(told.length);
    expect(found.others.length).toBeGreaterThan(1);
  });
  it('are what they are told by, and never better than the best', () => {
    expect(Math.max(...frets(of('stays low')))).toBeLessThanOrEqual(5);
    const within = frets(of('stays within three frets'));
    expect(Math.max(...within) - Math.min(...within)).toBeLessThanOrEqual(3);
    for (const { way } of found.others) {
      expect(barMoves(of('fewest bar moves'))).toBeLessThanOrEqual(barMoves(way));
      // two strings are less work than the three that were asked for
      if (way.steps.every(({ hold }) => hold.strings.length >= 3))
        expect(way.total).toBeGreaterThanOrEqual(best.total);
    }
    const two = of('two strings only');
    expect(two.steps.every(({ hold }) => hold.strings.length === 2)).toBe(true);
  });
  it('of a limit are the best of all that keep it: asked for as a preference, the same comes out', () => {
    const low = arrange(e9, progression, { ...wishes, frets: [0, 5] }, 1).ways[0];
    expect(of('stays low').total).toBe(low?.total);
    const pocket = arrange(e9, progression, { ...wishes, pocket: 3 }, 1).ways[0];
    expect(of('stays within three frets').total).toBe(pocket?.total);
  });
  it('go another route where at least two fifths of the places differ, the cheapest that does', () => {
    const other = found.others.find(({ character }) => character === 'another route');
    const route = other?.way ?? best;
    const same = (way: ArrangedWay): number =>
      way.steps.filter(({ hold }, at) => {
        const there = best.steps[at]?.hold;
        return there !== undefined && placeText(hold) === placeText(there);
      }).length;
    if (other !== undefined) expect(other.apart).toBeGreaterThanOrEqual(0.4);
    // none of the best few hundred is as different and cheaper
    for (const way of arrange(e9, progression, wishes, 200, 'positions').ways)
      if (same(way) <= same(route)) expect(way.total).toBeGreaterThanOrEqual(route.total);
  });
  it('are not looked for where the player has said what the whole is to be', () => {
    expect(alternatives(e9, progression, { ...wishes, pocket: 2 }, best).others).toEqual([]);
  });
});

describe('costs that know time, common practice of the trade', () => {
  const first = (text: string): ArrangedWay => {
    const [way] = arrange(e9, readProgression(text).progression, wishes, 1).ways;
    if (way === undefined) throw new Error(text);
    return way;
  };
  const played = (text: string) =>
    first(text).steps.map(({ hold, way }) => `${hold.fret} ${way.map(({ id }) => id).join('+')}`);
  it('pedals that are down stay down: one, four for three measures, one', () => {
    const places = played('D | G | G | G | D');
    expect(new Set(places.map((place) => place.split(' ')[0])).size).toBe(1);
    expect(places.slice(1, 4)).toEqual([places[1], places[1], places[1]]);
  });
  it('a control is paid for where it is engaged, and nothing while it stays', () => {
    const [, presses, holds] = first('G | C | C').steps;
    expect(presses?.effort.feet).toBeGreaterThan(0);
    expect(holds?.effort.feet).toBe(0);
    expect(holds?.move.total).toBe(0);
  });
  it('one, four, five, one ends where it began, with the pedals used', () => {
    const places = played('G | G | C | C | D | D | G | G');
    expect(places[7]?.split(' ')[0]).toBe(places[0]?.split(' ')[0]);
    expect(places.join()).toContain('A+B');
  });
  it('two, five, one is never ten frets apart, in any key', () => {
    for (const [two, five, one] of [
      ['Dm7', 'G7', 'C'],
      ['Ebm7', 'Ab7', 'Db'],
      ['Em7', 'A7', 'D'],
      ['Fm7', 'Bb7', 'Eb'],
      ['F#m7', 'B7', 'E'],
      ['Gm7', 'C7', 'F'],
      ['G#m7', 'C#7', 'F#'],
      ['Am7', 'D7', 'G'],
      ['Bbm7', 'Eb7', 'Ab'],
      ['Bm7', 'E7', 'A'],
      ['Cm7', 'F7', 'Bb'],
      ['C#m7', 'F#7', 'B'],
    ]) {
      const at = first(`${two} | ${five} | ${one}`).steps.map(({ hold }) => hold.fret);
      expect(Math.max(...at) - Math.min(...at), `${two} ${at.join()}`).toBeLessThanOrEqual(3);
    }
  });
  it('the bar goes less far where there is less time', () => {
    const slow = first('tempo: 40\nC | F#m | C').parts.barMm;
    const quick = first('tempo: 400\nmetre: 1/4\nC | F#m | C').parts.barMm;
    expect(quick).toBeLessThanOrEqual(slow);
  });
  it('a bass that would make a cluster is the band’s, others are in the grip', () => {
    const [, clash, clear] = first('C | C/B | C/G').steps;
    expect(clash?.bandsBass).toBe(true);
    expect(clear?.bandsBass).toBe(false);
    expect(Math.min(...(clear?.voicing.pitches ?? [])) % 12).toBe(7);
  });
});
