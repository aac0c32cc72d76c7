import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { briefly, gistOf } from '$lib/setup/gist';

it('tells the E9 by its strings and pulls, as its chart does (common practice)', () => {
  const { necks, controls } = gistOf(builtIn('e9'));
  expect(necks).toEqual([
    {
      name: 'E9, 10 strings',
      seen: 'F♯ D♯ G♯ E B G♯ F♯ E D B',
      said: 'F sharp, D sharp, G sharp, E, B, G sharp, F sharp, E, D, B',
    },
  ]);
  const named = new Map(controls.map(({ name, seen, said }) => [name, { seen, said }]));
  expect(named.get('A (P1)')).toEqual({
    seen: '5 B → C♯, 10 B → C♯',
    said: 'string 5 from B to C sharp, string 10 from B to C sharp',
  });
  // the half-stop is on the way
  expect(named.get('RKR')).toEqual({
    seen: '2 D♯ → D → C♯, 9 D → C♯',
    said: 'string 2 from D sharp to D and on to C sharp, string 9 from D to C sharp',
  });
});

it('names the neck where there are two', () => {
  const { necks, controls } = gistOf(builtIn('double'));
  expect(necks.map(({ name }) => name)).toEqual(['E9, 10 strings', 'C6, 10 strings']);
  expect(controls.find(({ name }) => name.includes('P4'))?.seen).toBe('C6 4 A → B, C6 8 A → B');
});

it('says a setup in a line', () => {
  expect(briefly(builtIn('double'))).toMatch(
    /^E9 with 10 strings, C6 with 10 strings, \d+ controls$/,
  );
  expect(briefly(builtIn('lap6-c6'))).toBe('C6 with 6 strings, no controls');
});
