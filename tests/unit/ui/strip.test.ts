/** The strip says of every string what the tablature writes and the ear hears. */
import { expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { namedPlayed } from '$lib/arrange/measureKeys';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { tabPieceOf } from '$lib/formats/arrangedTab';
import { builtIn } from '$lib/setup/builtIns';
import { parseKey } from '$lib/theory/spelling';
import { cardsOf } from '$lib/ui/arrange/stripView';

it('strings that ring on are the same ones, however slow the piece', () => {
  const setup = builtIn('e9');
  for (const tempo of [60, 84, 200]) {
    const { progression } = readProgression(
      `tempo: ${tempo}\nG | C | G | D7\nG | Em | Am D7 | G | N.C. | G`,
    );
    const [way] = arrange(setup, progression, noWishes(false), 1).ways;
    if (way === undefined) throw new Error('no way');
    const cards = way.steps.map(cardsOf(setup, progression, way));
    const written = tabPieceOf(setup, progression, way).steps;
    for (const { index, lines, held } of cards) {
      const rings = lines.filter((line) => line.rings).map(({ string }) => string);
      expect(rings, `${tempo}, chord ${index + 1}`).toEqual(written[index]?.held ?? []);
      expect(held === '', `${tempo}, chord ${index + 1}`).toBe(rings.length === 0);
    }
  }
});

it('each tone stands on the string that sounds it', () => {
  const setup = builtIn('e9');
  const { progression } = readProgression('G | C');
  const [way] = arrange(setup, progression, noWishes(false), 1).ways;
  if (way === undefined) throw new Error('no way');
  const cards = way.steps.map(cardsOf(setup, progression, way));
  const told = cards.map(({ fret, controls, lines }) => [
    fret,
    controls,
    ...lines.flatMap(({ string, tone }) => (tone ? [`${string} ${tone.text}`] : [])),
  ]);
  // by hand: strings 3, 4, 5 are G♯4 E4 B3; three frets higher B4 G4 D4, with A and B pressed C5 G4 E4
  expect(told).toEqual([
    ['3', '–', '3 3', '4 R', '5 5'],
    ['3', 'A+B', '3 R', '4 5', '5 3'],
  ]);
});

it('each chord is named as the reader wants it, by the key that counts where it is played', () => {
  const setup = builtIn('e9');
  const { progression, piece } = readProgression('key: G\n|: G | C :|\nD7 | G');
  if (piece === undefined) throw new Error('no piece');
  // from the third measure on in D, as scores can have it
  const inD = {
    ...piece,
    measures: piece.measures.map((measure, at) => ({
      ...measure,
      ...(at === 2 ? { key: parseKey('D') } : {}),
    })),
  } as typeof piece;
  const [way] = arrange(setup, progression, noWishes(false), 1).ways;
  if (way === undefined) throw new Error('no way');
  const named = (signs: 'numbers' | 'numerals' | 'letters and numbers') =>
    way.steps
      .map(cardsOf(setup, progression, way, namedPlayed(inD, signs)))
      .map(({ symbol }) => symbol);
  expect(named('numbers')).toEqual(['1', '4', '1', '4', '1⁷', '4']);
  expect(named('numerals')).toEqual(['I', 'IV', 'I', 'IV', 'I7', 'IV']);
  expect(named('letters and numbers').slice(4)).toEqual(['D7 1⁷', 'G 4']);
});
