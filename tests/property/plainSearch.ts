/**
 * The search said once more, slowly: every set of controls, every fret, every grip, by loops, lists
 * and sets of text. It shares no code with the engine but the types, so that the two can only agree
 * by meaning the same.
 */
import type { Chord } from '$lib/theory/chord';
import type { Control, Engaged, Setup } from '$lib/setup/setup';

export interface PlainVoicing {
  readonly fret: number;
  readonly strings: readonly number[];
  readonly pitches: readonly number[];
  /** Each way as sorted text, such as `A RKR:half`; sorted. */
  readonly ways: readonly string[];
}

const numberOfPedal = (control: Control): number | undefined =>
  /^P\d+$/.test(control.station) ? Number(control.station.slice(1)) : undefined;

const limbOf = (control: Control): string =>
  numberOfPedal(control) !== undefined
    ? 'foot'
    : /^(WRIST|PALM[12])$/.test(control.station)
      ? 'hand'
      : control.station.slice(0, 2);

/**
 * What the rules say of the controls that one limb holds: model, section 3; of second banks and of the
 * hand's levers the rules at the head of `setup/reach.ts` (common practice of the trade, from memory).
 */
function plainRule(setup: Setup, limb: string, controls: readonly Control[]): boolean {
  if (limb === 'foot') {
    const pedals = controls
      .map(numberOfPedal)
      .filter((number) => number !== undefined)
      .sort((a, b) => a - b);
    if (pedals.length > setup.reach.pedalsAtOnce) return false;
    for (let i = 1; i < pedals.length; i++)
      if ((pedals[i] ?? 0) - (pedals[i - 1] ?? 0) !== 1) return false;
    return true;
  }
  const stations = controls.map(({ station }) => station as string).sort();
  if (limb === 'hand') return stations.length < 2 || stations.join(' ') === 'PALM1 PALM2';
  const second = stations.filter((station) => station.endsWith('2')).length;
  if (second !== 0 && second !== stations.length) return false;
  const ways = stations
    .map((station) => station.charAt(2))
    .sort()
    .join('');
  return ways.length < 2 || (setup.reach.kneeUpWithSideways && (ways === 'LV' || ways === 'RV'));
}

/**
 * Can these be engaged together? Not where they hold all of a `never` set. Else each limb must keep
 * the rules, or be spoken of by an `also` set whose limbs hold its controls and no others.
 */
export function plainReachable(setup: Setup, engaged: readonly Engaged[]): boolean {
  const held = engaged.map(({ id }) => setup.controls.find((each) => each.id === id) as Control);
  const ids = held.map(({ id }) => id);
  for (const never of setup.reach.never ?? [])
    if (never.every((id) => ids.includes(id))) return false;
  const limbsOf = (set: readonly string[]): string[] =>
    set.map((id) => limbOf(setup.controls.find((each) => each.id === id) as Control));
  return ['foot', 'LK', 'RK', 'hand'].every(
    (limb) =>
      plainRule(
        setup,
        limb,
        held.filter((control) => limbOf(control) === limb),
      ) ||
      (setup.reach.also ?? []).some((also) => {
        const limbs = limbsOf(also);
        const there = held.filter((control) => limbs.includes(limbOf(control)));
        const same =
          there
            .map(({ id }) => id)
            .sort()
            .join() === [...also].sort().join();
        return limbs.includes(limb) && same;
      }),
  );
}

/** Every set of controls in every state, reachable or not. */
export function everySet(controls: readonly Control[]): Engaged[][] {
  const [first, ...rest] = controls;
  if (first === undefined) return [[]];
  const without = everySet(rest);
  const sets = [...without];
  for (const set of without) sets.push([{ id: first.id, state: 'full' }, ...set]);
  if (first.pulls.some((pull) => pull.half !== undefined))
    for (const set of without) sets.push([{ id: first.id, state: 'half' }, ...set]);
  return sets;
}

/** Model, section 2, with the bar at the nut. */
export function plainOpen(
  setup: Setup,
  neck: number,
  string: number,
  engaged: readonly Engaged[],
): number {
  const raises: number[] = [0];
  const lowers: number[] = [0];
  for (const { id, state } of engaged)
    for (const control of setup.controls)
      if (control.id === id)
        for (const pull of control.pulls)
          if (pull.neck === neck && pull.string === string) {
            const move = state === 'full' ? pull.semitones : (pull.half ?? 0);
            if (move > 0) raises.push(move);
            if (move < 0) lowers.push(move);
          }
  const open = setup.necks[neck - 1]?.strings[string - 1]?.open.midi ?? 0;
  return open + Math.max(...raises) + Math.min(...lowers);
}

/** Every choice of strings 1 … n with a size within bounds. */
export function everyGrip(strings: number, [fewest, most]: readonly [number, number]): number[][] {
  const grips: number[][] = [];
  const grow = (grip: number[], next: number): void => {
    if (grip.length >= fewest && grip.length <= most) grips.push(grip);
    if (grip.length < most)
      for (let string = next; string <= strings; string++) grow([...grip, string], string + 1);
  };
  grow([], 1);
  return grips;
}

const classesOf = (pitches: readonly number[]): string =>
  [...new Set(pitches.map((pitch) => pitch % 12))].sort((a, b) => a - b).join(' ');

/** Model, section 5: which sets of pitch classes satisfy a chord, as text. */
export function plainSets(chord: Chord, match: 'complete' | 'lean' | 'rootless'): Set<string> {
  const sets = new Set<string>();
  const tones = [...chord.tones];
  const root = tones.find((tone) => tone.degree === '1');
  const distinct = new Set(tones.map((tone) => tone.chroma)).size;
  for (let choice = 0; choice < 2 ** tones.length; choice++) {
    const kept = tones.filter((_, index) => choice & (1 << index));
    const gone = tones.filter((_, index) => !(choice & (1 << index)));
    const classes = classesOf(kept.map((tone) => tone.chroma));
    const size = classes === '' ? 0 : classes.split(' ').length;
    if (gone.length === 0) {
      sets.add(classes);
      continue;
    }
    if (match === 'complete') continue;
    if (gone.some((tone) => tone.must)) continue;
    if (root !== undefined && gone.includes(root) && match !== 'rootless') continue;
    const triadWithoutFifth = distinct === 3 && gone.length === 1 && gone[0]?.degree === '5';
    if (size >= 3 || (size === 2 && triadWithoutFifth)) sets.add(classes);
  }
  return sets;
}

/** The sets that grips of one or two strings may sound besides: any one or two tones of the chord. */
export function plainFew(chord: Chord, match: 'complete' | 'lean' | 'rootless'): Set<string>[] {
  if (match === 'complete') return [];
  const chromas = [...new Set(chord.tones.map((tone) => tone.chroma))];
  const pairs = chromas.flatMap((a) => chromas.map((b) => [a, b]).filter(([x, y]) => x !== y));
  return [new Set(), new Set(chromas.map((a) => classesOf([a]))), new Set(pairs.map(classesOf))];
}

const wayText = (engaged: readonly Engaged[]): string =>
  engaged
    .map(({ id, state }) => (state === 'half' ? `${id}:half` : id))
    .sort()
    .join(' ');

export interface PlainQuestion {
  readonly neck: number;
  readonly frets: readonly [number, number];
  readonly sizes: readonly [number, number];
  /** Sets of pitch classes that are wanted, as `plainSets` writes them. */
  readonly sets: ReadonlySet<string>;
  /** More of them by the number of strings, as `plainFew` writes them. */
  readonly few?: readonly ReadonlySet<string>[];
  /** Pitch class that must be lowest. */
  readonly bass?: number;
}

/** Answers several questions that share neck, frets and sizes in one walk over all candidates. */
export function plainSearch(
  setup: Setup,
  { neck, frets, sizes }: Pick<PlainQuestion, 'neck' | 'frets' | 'sizes'>,
  questions: readonly Pick<PlainQuestion, 'sets' | 'few' | 'bass'>[],
): PlainVoicing[][] {
  const strings = setup.necks[neck - 1]?.strings.length ?? 0;
  const reachable = everySet(setup.controls).filter((set) => plainReachable(setup, set));
  const opens = reachable.map((set) =>
    Array.from({ length: strings }, (_, index) => plainOpen(setup, neck, index + 1, set)),
  );
  const texts = reachable.map(wayText);
  // for each reachable set: the reachable sets that are left when one control of it is let go
  const fewer = reachable.map((set) =>
    set.flatMap((gone) => {
      const place = texts.indexOf(wayText(set.filter((each) => each !== gone)));
      return place < 0 ? [] : [place];
    }),
  );
  const found = questions.map(
    () => new Map<string, { fret: number; strings: number[]; pitches: number[]; ways: string[] }>(),
  );
  for (const grip of everyGrip(strings, sizes))
    reachable.forEach((_, place) => {
      const chosen = grip.map((string) => opens[place]?.[string - 1] ?? 0);
      const idle = (fewer[place] ?? []).some((other) =>
        grip.every((string) => opens[other]?.[string - 1] === opens[place]?.[string - 1]),
      );
      for (let fret = frets[0]; fret <= frets[1]; fret++) {
        const pitches = chosen.map((pitch) => pitch + fret);
        const classes = classesOf(pitches);
        questions.forEach((question, number) => {
          if (!question.sets.has(classes) && !question.few?.[grip.length]?.has(classes)) return;
          if (question.bass !== undefined && Math.min(...pitches) % 12 !== question.bass) return;
          const key = [fret, grip.join('-'), pitches.join('-')].join('|');
          const voicing = found[number]?.get(key) ?? { fret, strings: grip, pitches, ways: [] };
          if (!idle) voicing.ways.push(texts[place] ?? '');
          found[number]?.set(key, voicing);
        });
      }
    });
  return found.map((voicings) =>
    [...voicings.values()].map((voicing) => ({ ...voicing, ways: voicing.ways.sort() })),
  );
}
