/** Voicings of a chord type are one count, and it is the search's own. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { movePull } from '$lib/setup/edits/pulls';
import type { Setup } from '$lib/setup/setup';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { answer } from '$lib/answers/answer';
import { readQuestion } from '$lib/answers/question';
import { changeBetween, countShapes } from '$lib/coverage/change';
import { coverageOf } from '$lib/coverage/coverage';
import { countByType } from '$lib/coverage/typeShapes';
import { yardstick } from '$lib/coverage/yardstick';

const ROOTS = 'C Db D Eb E F F# G Ab A Bb B'.split(' ');

/** Every voicing that the search finds for a type on any root, by what makes it the one it is. */
function voicingsFound(setup: Setup, type: string): Set<string> {
  const found = new Set<string>();
  for (const root of ROOTS) {
    const question = readQuestion(setup, { chord: root + type });
    if (!question.ok) throw new Error(root + type);
    const ranking = answer(setup, question.value);
    for (let place = 0; place < ranking.count; place++) {
      const { neck, fret, slant, strings, pitches } = ranking.at(place).voicing;
      found.add([neck, fret, slant, strings.join('-'), pitches.join('-')].join('|'));
    }
  }
  return found;
}

describe('voicings of a chord type are the different ones that the search finds on all roots', () => {
  it.each(['e9', 'double', 'lap6-c6'] as const)('on %s', (id) => {
    const setup = builtIn(id);
    const types = EVERYDAY_REPERTOIRE.filter(({ type }) => ['', 'm7', 'aug', '7'].includes(type));
    for (const { type, voicings } of countByType(setup, types))
      expect(voicings, type).toBe(voicingsFound(setup, type).size);
  });
});

describe('the Bench, Change and Compare tell one count', () => {
  it.each(['e9', 'c6', 'universal12', 'double', 'lap8-c6'] as const)('on %s', (id) => {
    const setup = builtIn(id);
    const bench = countByType(setup, EVERYDAY_REPERTOIRE).map(({ voicings }) => voicings);
    const by = yardstick(EVERYDAY_REPERTOIRE);
    const { all } = changeBetween(setup, setup, by);
    const counted = new Map(
      countShapes(all.after, by, [0, setup.frets]).byType.map(({ type, count }) => [type, count]),
    );
    expect(EVERYDAY_REPERTOIRE.map(({ type }) => counted.get(type) ?? 0)).toEqual(bench);
    const { types } = coverageOf(setup, EVERYDAY_REPERTOIRE);
    expect(types.map(({ voicings }) => voicings)).toEqual(bench);
  });

  it('in which an augmented triad on three roots is one voicing: 10,200 names are 3,400', () => {
    const [augmented] = countByType(builtIn('e9'), [{ type: 'aug', weight: 1 }]);
    const found = ROOTS.reduce((count, root) => {
      const question = readQuestion(builtIn('e9'), { chord: `${root}aug` });
      return question.ok ? count + answer(builtIn('e9'), question.value).count : NaN;
    }, 0);
    expect(augmented?.voicings).toBe(found / 3);
    expect(augmented?.voicings).toBe(3400);
  });
});

it('an edit that moves nothing changes nothing, and a pull less loses what only it gave', () => {
  const e9 = builtIn('e9');
  const before = countByType(e9, EVERYDAY_REPERTOIRE);
  const cell = { id: 'LKV', neck: 1, string: 5 };
  const same = movePull(e9, cell, -1);
  const less = movePull(e9, cell, 0);
  if (!same.ok || !less.ok) throw new Error();
  expect(countByType(same.value, EVERYDAY_REPERTOIRE)).toEqual(before);
  countByType(less.value, EVERYDAY_REPERTOIRE).forEach(({ voicings }, place) => {
    expect(voicings).toBeLessThanOrEqual(before[place]?.voicings ?? 0);
  });
});
