/** Tunes said once more, slowly: every candidate of a moment and every way through, laid out one by one. */
import { combinations } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms } from '$lib/effort/clarity';
import { effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import { barMoveTerms, feetMoveTerms, moveFromHome, type SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { REACH_WEIGHTS as REACH, type Term } from '$lib/effort/weights';
import type { Onset } from '$lib/arrange/onsets';
import type { Wishes } from '$lib/arrange/wishes';
import { splitTerm } from './plainCandidates';
import { codeOf, engagedOf, holdsAfter } from './plainHolds';
import { plainSearch, plainSets } from './plainSearch';

export const thousandths = (value: number): number => Math.round(value * 1000);
export const textOf = ({ neck, fret, strings, engaged }: SoundingHold): string =>
  `${neck}/${fret}/${strings.join('-')}/${codeOf(engaged)}`;

export interface PlainCandidate {
  readonly hold: SoundingHold;
  readonly terms: readonly Term[];
}

export const classesOf = (pitches: readonly number[]): string =>
  [...new Set(pitches.map((pitch) => pitch % 12))].sort((a, b) => a - b).join(' ');

/** Everything that sounds a set, in every way, as far as a test of its pitches lets through. */
export function candidates(
  setup: Setup,
  sets: ReadonlySet<string>,
  sizes: readonly [number, number],
  isWanted: (pitches: readonly number[]) => boolean,
): PlainCandidate[] {
  return setup.necks.flatMap((on, place) => {
    const neck = place + 1;
    const [found = []] = plainSearch(setup, { neck, frets: [0, setup.frets], sizes }, [{ sets }]);
    return found
      .filter(({ pitches }) => isWanted(pitches))
      .flatMap(({ fret, strings, pitches, ways }) =>
        ways.map((way) => {
          const hold = { neck, fret, slant: 0, strings, pitches, engaged: engagedOf(way) };
          const ascending = [...pitches].sort((a, b) => a - b);
          const terms = [
            splitTerm(setup, hold),
            ...pickingTerms(on, strings),
            ...barTerms(setup, fret, undefined, 0),
            ...heightTerms(fret),
            ...closeTerms(ascending),
            ...lowTerms(ascending),
          ];
          return { hold, terms };
        }),
      );
  });
}

/** What can be played at a moment; with less of it where there is none with all. */
export function candidatesAt(setup: Setup, onset: Onset, sizes: readonly [number, number]) {
  const { melody, second, chord, asChord } = onset;
  const top = (pitches: readonly number[]): boolean =>
    melody === undefined || Math.max(...pitches) === melody.midi;
  if (asChord && chord !== undefined)
    for (const match of ['lean', 'rootless'] as const) {
      const own = melody === undefined ? [] : [melody.midi % 12];
      const sets = [...plainSets(chord, match)].map((classes) =>
        classesOf([...classes.split(' ').map(Number), ...own]),
      );
      const found = candidates(setup, new Set(sets), sizes, top);
      if (found.length > 0) return found;
    }
  // two strings that say a chord are tested by hand, and left out here
  if (asChord) return [];
  if (melody !== undefined && second !== undefined) {
    const asked = [second.midi, melody.midi];
    const found = candidates(setup, new Set([classesOf(asked)]), [2, 2], (pitches) =>
      asked.every((each) => pitches.includes(each)),
    );
    if (found.length > 0) return found;
  }
  if (melody === undefined) return [];
  return candidates(setup, new Set([classesOf([melody.midi])]), [1, 1], top);
}

/** A string that one control lets go where another takes it up, nothing that moves it going on. */
function isHanded(setup: Setup, from: SoundingHold, to: SoundingHold, string: number): boolean {
  const movers = ({ neck, engaged, idle = [] }: SoundingHold): string[] =>
    engaged
      .map(({ id }) => id)
      .filter((id) => !idle.some((each) => each.id === id))
      .filter((id) =>
        setup.controls
          .find((each) => each.id === id)
          ?.pulls.some((pull) => pull.neck === neck && pull.string === string),
      );
  const [before, after] = [movers(from), movers(to)];
  return before.some((id) => !after.includes(id)) && after.some((id) => !before.includes(id));
}

/** What the hand does from one to the next: section 15 of the contract, in the weights' words. */
function reachCost(
  setup: Setup,
  from: SoundingHold,
  to: SoundingHold,
  last: Onset,
  onset: Onset,
): number {
  const joined = Math.abs(last.at + last.lasts - onset.at) < 1e-5;
  const seconds = Math.round(Math.min(1, onset.seconds - last.seconds) * 1000) / 1000;
  const sameBar = from.neck === to.neck && from.fret === to.fret;
  const frets = to.fret - from.fret;
  const top = to.strings[to.pitches.indexOf(Math.max(...to.pitches))];
  const sings = onset.melody === undefined ? undefined : top;
  const before = (string: number): number | undefined =>
    from.neck === to.neck ? from.pitches[from.strings.indexOf(string)] : undefined;
  let cost = 0;
  const picked: number[] = [];
  let slides = false;
  let melodyRings = false;
  to.strings.forEach((string, at) => {
    const was = before(string);
    const steps = (to.pitches[at] as number) - (was ?? 0);
    if (!joined || was === undefined) picked.push(string);
    else if (sameBar && steps === 0) {
      if (string === sings && !onset.melodyLasts) picked.push(string);
      else if (string === sings) melodyRings = true;
    } else if (sameBar && isHanded(setup, from, to, string)) picked.push(string);
    else if (sameBar) cost += REACH.pullPerSemitone * Math.max(0, Math.abs(steps) - 2);
    else if (steps === frets && Math.abs(frets) <= 4) slides = true;
    else picked.push(string);
  });
  const anew = picked.filter((string) => before(string) === undefined).length;
  if (picked.length > 0) cost += REACH.stroke + REACH.string * anew;
  if (slides) cost += REACH.slide + REACH.slidePerFret * Math.max(0, Math.abs(frets) - 2);
  if (seconds < 0.15) {
    const waiting = Math.min(anew, Math.max(0, from.strings.length + anew - 3));
    cost += REACH.sameFinger * (picked.length - anew + waiting);
  }
  if (onset.between && joined && !sameBar) cost += REACH.leavesChord;
  if (onset.melodyLasts && !melodyRings) cost += REACH.restruck;
  return cost;
}

/** Every way of playing it, as its least cost over all that may stay engaged, and its text. */
export function everyWay(
  setup: Setup,
  layers: readonly (readonly PlainCandidate[])[],
  onsets: readonly Onset[],
  { balance, home }: Wishes,
): { cost: number; text: string }[] {
  const reachable = new Set([...combinations(setup)].map(codeOf));
  let ways: { cost: number; text: string; last?: SoundingHold }[] = [{ cost: 0, text: '' }];
  layers.forEach((layer, at) => {
    const onset = onsets[at] as Onset;
    const before = onsets[at - 1];
    const next = new Map<string, (typeof ways)[number]>();
    for (const { cost, text, last } of ways)
      for (const { hold: needs, terms } of layer)
        for (const hold of holdsAfter(setup, reachable, last, needs)) {
          const engaging = engagingTerms(setup, last?.engaged ?? [], needs.engaged);
          const effort = thousandths(effortOf([...engaging, ...terms], balance).total);
          const seconds = Math.round(1000 * Math.min(1, onset.seconds - (before?.seconds ?? 0)));
          const part = (all: readonly { value: number }[], weight: number): number =>
            Math.round(thousandths(all.reduce((sum, { value }) => sum + value, 0)) * weight);
          const move =
            last !== undefined && before !== undefined
              ? part(barMoveTerms(setup, last, hold, seconds / 1000), balance.bar) +
                part(feetMoveTerms(setup, last, hold), balance.feet) +
                part([{ value: reachCost(setup, last, hold, before, onset) }], balance.picking)
              : home === undefined
                ? 0
                : thousandths(moveFromHome(setup, home, hold, balance).total);
          const sum = cost + effort + move;
          const way = { cost: sum, text: `${text} ${textOf(needs)}`, last: hold };
          // the same so far, held the same now: only the least can count
          const key = `${way.text}|${textOf(hold)}`;
          if (sum < (next.get(key)?.cost ?? Infinity)) next.set(key, way);
        }
    ways = [...next.values()];
  });
  const least = new Map<string, number>();
  for (const { cost, text } of ways) least.set(text, Math.min(cost, least.get(text) ?? Infinity));
  return [...least].map(([text, cost]) => ({ cost, text })).sort((a, b) => a.cost - b.cost);
}
