/** `npm run bench`: the figures of the engine. Ratios are of medians taken in this one run. */
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { namesOf } from '$lib/theory/names';
import { sizeOf } from '$lib/theory/pcset';
import { answer } from '$lib/answers/answer';
import { readQuestion } from '$lib/answers/question';
import { Instrument } from '$lib/engine/instrument';
import { compare } from '$lib/coverage/compare';
import { coverageOf } from '$lib/coverage/coverage';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { candidateCount, floorOf, plainSample } from './plain';
import { edits } from './edits';
import { medians, ms, print } from './measure';
import { scaleAnswers, scaleMet } from './scales';
import { hearing } from './hearing';
import { sound } from './sound';
import { tunes } from './tunes';
import { ways } from './ways';

const SETUPS: readonly BuiltInId[] = ['e9', 'c6', 'universal12'];
const SIZES: readonly (readonly [number, number])[] = [
  [3, 4],
  [2, 5],
];

async function indexes(): Promise<void> {
  console.log('Building the whole index of a setup');
  const rows: string[][] = [];
  for (const id of SETUPS)
    for (const sizes of SIZES) {
      const setup = builtIn(id);
      const many = 400;
      const took = await medians({
        index: () => new Instrument(setup).index(1, { sizes }),
        floor: floorOf(setup, sizes),
        plain: plainSample(setup, sizes, many),
      });
      const [index = NaN, floor = NaN, sample = NaN] = took.values();
      const candidates = candidateCount(setup, sizes);
      const plain = (sample / many) * candidates;
      const { count } = new Instrument(setup).index(1, { sizes });
      rows.push([
        `${id} ${sizes.join('-')}`,
        candidates.toLocaleString('en'),
        count.toLocaleString('en'),
        ms(index),
        ms(floor),
        `${(index / floor).toFixed(1)} ×`,
        `${(index / (floor * (setup.frets + 1))).toFixed(2)} ×`,
        `${(plain / 1000).toFixed(1)} s`,
        `${Math.round(plain / index).toLocaleString('en')} ×`,
      ]);
    }
  print(
    [
      'setup, sizes',
      'candidates',
      'distinct at nut',
      'index',
      'floor, at nut',
      'index / that floor',
      'index / floor, all frets',
      'plain way (scaled)',
      'faster than plain',
    ],
    rows,
  );
  console.log('Wanted: at most 4 × the floor, at least 1,000 × faster than the plain way,');
  console.log('universal12 within one display frame (16 ms).\n');
}

async function queries(): Promise<void> {
  console.log('A chord query with ranking, the index being there (sizes 3-4, all frets)');
  const rows: string[][] = [];
  for (const id of SETUPS) {
    const setup = builtIn(id);
    for (const symbol of ['C', 'Am7', 'F#m7b5', 'G13']) {
      const read = readQuestion(setup, { chord: symbol });
      if (!read.ok) throw new Error(symbol);
      const question = read.value;
      const took = await medians({ query: () => answer(setup, question).count }, 200);
      rows.push([
        `${id} ${symbol}`,
        answer(setup, question).count.toLocaleString('en'),
        ms(took.get('query') ?? NaN),
      ]);
    }
  }
  print(['setup, chord', 'voicings', 'query and ranking'], rows);
  console.log('Wanted: within 5 ms.\n');
}

async function names(): Promise<void> {
  const sets = Array.from({ length: 4096 }, (_, set) => set).filter((set) => sizeOf(set) >= 2);
  const took = await medians({
    best: () => sets.forEach((set) => namesOf(set, 31 - Math.clz32(set), { limit: 1 })),
  });
  const each = ((took.get('best') ?? NaN) / sets.length) * 1000;
  console.log(`Best name of a sound: ${each.toFixed(1)} µs (mean over all ${sets.length} sets)\n`);
}

/** A copy each time, so that nothing that is kept with a setup shortens the way. */
async function weighing(): Promise<void> {
  console.log('Weighing with the everyday repertoire, all indexes built anew');
  // another name is another setup, of which nothing is known yet
  let times = 0;
  const anew = (id: BuiltInId) => ({ ...builtIn(id), name: `${id} ${++times}` });
  const took = await medians({
    coverage: () => coverageOf(anew('universal12'), EVERYDAY_REPERTOIRE),
    compare: () => compare(anew('e9'), anew('universal12'), EVERYDAY_REPERTOIRE).onlyA.count,
  });
  print(
    ['', 'took', 'wanted within'],
    [
      ['coverage of universal12', ms(took.get('coverage') ?? NaN), '300 ms'],
      ['e9 compared with universal12', ms(took.get('compare') ?? NaN), '600 ms'],
    ],
  );
}

/** What is measured, by the names that a call can give: `npm run bench -- scales tunes`. */
const PARTS: Readonly<Record<string, () => void | Promise<void>>> = {
  indexes,
  queries,
  names,
  edits,
  weighing,
  ways,
  tunes,
  scales: scaleAnswers,
  sound,
  hearing,
};

const [first, ...more] = process.argv.slice(2);
if (first === 'scale-met') await scaleMet(more.join(' '));
else {
  const asked = first === undefined ? Object.keys(PARTS) : [first, ...more];
  for (const name of asked) {
    const part = PARTS[name];
    if (part === undefined)
      throw new Error(`There is no part ${name}; there are ${Object.keys(PARTS).join(', ')}.`);
    await part();
  }
}
