/**
 * What lies under the hands on the universal twelve: scale, pockets, ladders, passages, what leads on, phrases.
 * Each is met three ways: first of all in a process of its own, which has answered one chord in Explore as a page has
 * (its program is not yet compiled by the machine then); of a setup of which nothing is known, in a program that has
 * run; and again.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { find } from '$lib/answers/explore';
import { leadsFrom } from '$lib/answers/leadsOn';
import { passagesFor } from '$lib/answers/passages';
import { placePhrase } from '$lib/answers/phrases';
import { readQuestion } from '$lib/answers/question';
import { scales, type ScaleAsked } from '$lib/answers/scaleView';
import { scaleAtBar } from '$lib/scales/atBar';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { readScale } from '$lib/theory/scales';
import { parseKey } from '$lib/theory/spelling';
import { medians, ms, print } from './measure';

const SCALE = { scale: 'G mixolydian', neck: '1' } as const;
const pockets = (pocket: string): ScaleAsked => ({ what: 'pockets', texts: { ...SCALE, pocket } });
const ladder = (interval: string, strings?: string): ScaleAsked => ({
  what: 'ladder',
  texts: { ...SCALE, interval, way: 'both', ...(strings === undefined ? {} : { strings }) },
});

const FROM = { neck: 1, fret: 3, slant: 0, strings: [4, 5, 6], engaged: [] } as const;

function underBar(setup: Setup): unknown {
  const scale = readScale(SCALE.scale);
  return scale.ok ? scaleAtBar(setup, scale.value, FROM) : undefined;
}

function phrase(id: string): (setup: Setup) => unknown {
  const key = parseKey('G');
  return (setup) => key && placePhrase(setup, id, key);
}

const CASES: readonly (readonly [string, (setup: Setup) => unknown])[] = [
  ['scale under the bar', underBar],
  ...['0', '2', '3'].map(
    (frets) => [`pockets of ${frets}`, (setup: Setup) => scales(setup, pockets(frets))] as const,
  ),
  ...['thirds', 'sixths', 'tenths', 'octaves', 'triads'].map(
    (each) => [`ladder, ${each}`, (setup: Setup) => scales(setup, ladder(each))] as const,
  ),
  ['ladder, sixths on 5, 8', (setup) => scales(setup, ladder('sixths', '5,8'))],
  ['ladder, triads on 3, 4, 5', (setup) => scales(setup, ladder('triads', '3,4,5'))],
  ['passages to F', (setup) => passagesFor(setup, { from: '3/-/4-5-6', to: 'F' })],
  ['passages to fret 10', (setup) => passagesFor(setup, { from: '3/-/4-5-6', to: '10/-/4-5-6' })],
  ['what leads on', (setup) => leadsFrom(setup, FROM, 'C')],
  ...['rise-in-thirds', 'two-five-line', 'home-in-sixths', 'there-and-back'].map(
    (id) => [`phrase, ${id}`, phrase(id)] as const,
  ),
];

/** Milliseconds that this thread has computed, where the system tells; by the clock elsewhere. */
function computedMs(): number {
  try {
    const told = readFileSync(`/proc/self/task/${process.pid}/schedstat`, 'utf8');
    return Number(told.split(' ')[0]) / 1e6;
  } catch {
    return performance.now();
  }
}

/** In a process of its own: tells what a case takes that comes first after a chord in Explore. */
export async function scaleMet(name: string): Promise<void> {
  const setup = builtIn('universal12');
  const question = readQuestion(setup, { chord: 'C' });
  const answer = CASES.find(([each]) => each === name)?.[1];
  if (!question.ok || answer === undefined) throw new Error(`no case ${name}`);
  await find(setup, { texts: { chord: 'C' }, question: question.value }, 12);
  // what the machine does behind its back comes to an end
  await new Promise((done) => setTimeout(done, 300));
  const [clock, computed] = [performance.now(), computedMs()];
  answer(setup);
  console.log(JSON.stringify([computedMs() - computed, performance.now() - clock]));
}

const ONCE = 5;

/** The middle one of a few processes: computed, and by the clock. */
function met(name: string): [number, number] {
  const all = Array.from({ length: ONCE }, () => {
    const { stdout } = spawnSync(process.execPath, [process.argv[1] ?? '', 'scale-met', name]);
    return JSON.parse(stdout.toString()) as [number, number];
  });
  const middle = (of: 0 | 1): number =>
    all.map((each) => each[of]).sort((a, b) => a - b)[ONCE >> 1] ?? NaN;
  return [middle(0), middle(1)];
}

export async function scaleAnswers(): Promise<void> {
  console.log('Scales on universal12, G mixolydian');
  const rows: string[][] = [];
  const known = builtIn('universal12');
  let times = 0;
  for (const [name, answer] of CASES) {
    const [computed, clock] = met(name);
    const took = await medians(
      {
        // another name is another setup, of which nothing is known yet
        first: () => answer({ ...known, name: String(++times) }),
        again: () => answer(known),
      },
      100,
      8,
    );
    rows.push([
      ...[name, ms(computed), ms(clock)],
      ...[ms(took.get('first') ?? NaN), ms(took.get('again') ?? NaN), '100 ms'],
    ]);
  }
  print(['', 'met first', 'by the clock', 'of another setup', 'again', 'wanted within'], rows);
}
