/**
 * What leads on from a hold: the chords of a key that are reached while the bar stays where it is, by taking
 * other strings alone, by one control, or by two.
 */
import { allowedSets } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { chordsOfKey, type KeyChord } from '$lib/theory/keyChords';
import { pcSetOf, type PcSet } from '$lib/theory/pcset';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import { commonRoot, isWritable, type Key } from '$lib/theory/spelling';
import { unreachable, type Choice } from '$lib/setup/reach';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { gripsOf, stringsIn } from '$lib/search/grip';
import { pitchesOf, type Hold } from '$lib/search/hold';
import { stoppedBy } from '$lib/search/slants';
import type { Voicing } from '$lib/search/voicing';

import { findingTerms } from '$lib/effort/bar';
import type { Effort } from '$lib/effort/effort';
import { feetTerms } from '$lib/effort/feet';
import { feetMoveTerms, moveBetween, pickingMoveTerms, type Move } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { compile } from '$lib/engine/instrument';
import { effortOfVoicing } from '$lib/engine/rank';

/** Most controls that change. */
const MOST_CHANGES = 2;
/** Strings of a chord that is reached: three say a triad, four a seventh. */
const SIZES = [3, 4] as const;

/** A chord that is reached. */
export interface LedTo {
  /** Its number in the key, and what it is. */
  readonly of: KeyChord;
  /** On the neck, at the fret and under the slant of what it is reached from; its one way is what is engaged. */
  readonly voicing: Voicing;
  /** How many controls are pressed, released, or taken to or from a half-stop. */
  readonly changes: number;
  readonly effort: Effort;
  readonly move: Move;
}

/** The key in which a chord is at home: its own root, minor where its third is minor. */
export function keyFrom({ root, tones }: Pick<Chord, 'root' | 'tones'>): Key {
  const has = (degree: string): boolean => tones.some((tone) => tone.degree === degree);
  const mode = has('b3') && !has('3') ? 'minor' : 'major';
  const key: Key = { tonic: root, mode };
  return isWritable(key)
    ? key
    : { tonic: commonRoot(chromaOfName(root), mode === 'minor' ? 'm' : ''), mode };
}

/** All that can be engaged with at most so many controls changed, the fewest changes first. */
function withinChanges(
  setup: Setup,
  engaged: Choice,
  most: number,
): { choice: Choice; changes: number }[] {
  const all = [{ choice: engaged, changes: 0, from: 0 }];
  for (const { choice, changes, from } of all) {
    if (changes === most) continue;
    setup.controls.slice(from).forEach((control, later) => {
      const now = engaged.find(({ id }) => id === control.id)?.state;
      const others = choice.filter(({ id }) => id !== control.id);
      const states: (Engaged['state'] | undefined)[] = [
        undefined,
        ...(hasHalf(control) ? (['half', 'full'] as const) : (['full'] as const)),
      ];
      for (const state of states)
        if (state !== now)
          all.push({
            choice: state === undefined ? others : [...others, { id: control.id, state }],
            changes: changes + 1,
            from: from + later + 1,
          });
    });
  }
  const order = new Map(setup.controls.map(({ id }, at) => [id, at]));
  return all
    .filter(({ choice }) => unreachable(setup, choice) === undefined)
    .map(({ choice, changes }) => ({
      choice: [...choice].sort((a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0)),
      changes,
    }));
}

/** A chord of the key under a set of pitch classes that says it. */
interface Says {
  readonly of: KeyChord;
  readonly missing: readonly string[];
}

/**
 * By set of pitch classes: the chords that it says. A triad is complete; a seventh may lack its fifth, which
 * nobody misses (common practice).
 */
function saying(key: Key): ReadonlyMap<PcSet, readonly Says[]> {
  const bySet = new Map<PcSet, Says[]>();
  for (const of of chordsOfKey(key))
    for (const { set, missing } of allowedSets(of.chord, of.kind === 'triad' ? 'complete' : 'lean'))
      bySet.set(set, [...(bySet.get(set) ?? []), { of, missing }]);
  return bySet;
}

/** A grip under the bar. */
interface Under {
  readonly strings: readonly number[];
  /** By string: the frets that the bar stops ahead. */
  readonly ahead: readonly number[];
  readonly picking: number;
  /** What it costs to take it up from the strings before. */
  readonly moving: number;
}

const total = (terms: readonly { readonly value: number }[]): number =>
  terms.reduce((sum, { value }) => sum + value, 0);

/** The grips that the bar of a hold stops on frets of the neck, the cheapest to take first. */
function gripsUnder(setup: Setup, { neck, fret, slant, strings: held }: Hold): Under[] {
  const played = setup.necks[neck - 1];
  if (played === undefined) throw new Error(`neck ${neck} is not in the setup`);
  return gripsOf(played.strings.length, SIZES)
    .flatMap((grip): Under[] => {
      const strings = stringsIn(grip);
      const ahead = slant === 0 ? strings.map(() => 0) : stoppedBy(grip, slant);
      const isOnNeck = (frets: number): boolean =>
        slant === 0 || (fret + frets >= 1 && fret + frets <= setup.frets);
      if (ahead?.every(isOnNeck) !== true) return [];
      const changed =
        strings.filter((string) => !held.includes(string)).length +
        held.filter((string) => !strings.includes(string)).length;
      const picking = total(pickingTerms(played, strings));
      return [{ strings, ahead, picking, moving: total(pickingMoveTerms(changed)) }];
    })
    .sort((a, b) => a.picking + a.moving - b.picking - b.moving);
}

/** A chord that is reached, with its effort and move together. */
type Priced = LedTo & { readonly price: number };

/** Roundings of sums apart and together differ by no more. */
const ROUNDING = 0.01;

/**
 * Every chord of a key that a hold leads on to while the bar stays, by the fewest controls that reach it and so in
 * its easiest grip: effort and move together are least. Where more controls make it easier it is told with these
 * too: the hand then stays at its strings, as with one lever that lowers a major chord's root to its third degree's
 * chord. Fewest changes first, then the easiest. What sounds already is not among them. Exact: every combination with at most two controls changed, and every grip
 * of three or four strings, is looked at.
 *
 * @param hold one whose strings and controls the setup has
 */
export function leadsOn(setup: Setup, hold: Hold, key: Key): LedTo[] {
  const { neck, fret, slant } = hold;
  const instrument = compile(setup);
  const pitches = pitchesOf(setup, hold);
  const from = { ...hold, pitches };
  const own = pcSetOf(pitches.map(chromaOf));
  const bySet = saying(key);
  const grips = gripsUnder(setup, hold);
  /** By chord: by more and more controls, each time easier than by fewer. */
  const best = new Map<KeyChord, Priced[]>();
  const heard = new Map<string, number>();
  const played = setup.necks[neck - 1];
  const finding = new Map<KeyChord, number>();
  const found = (of: KeyChord): number => {
    let cost = finding.get(of);
    if (cost === undefined)
      finding.set(of, (cost = played ? total(findingTerms(played, of.chord, fret)) : 0));
    return cost;
  };
  for (const { choice, changes } of withinChanges(setup, hold.engaged, MOST_CHANGES)) {
    const strung = sounding(setup, neck, choice, fret);
    const sound = strung.join();
    // a change that nobody hears, on whatever string
    if ((heard.get(sound) ?? changes) < changes) continue;
    heard.set(sound, changes);
    const feet = total(feetTerms(setup, choice, instrument.middle));
    const pressing = total(feetMoveTerms(setup, hold, { engaged: choice }));
    for (const { strings, ahead, picking, moving } of grips) {
      let set = 0;
      for (let at = 0; at < strings.length; at++)
        set |=
          1 << chromaOf((strung[(strings[at] as number) - 1] as number) + (ahead[at] as number));
      const says = set === own ? undefined : bySet.get(set);
      for (const { of, missing } of says ?? []) {
        const all = best.get(of) ?? [];
        const before = all.at(-1);
        const least = pressing + moving - ROUNDING;
        if (before !== undefined && before.price <= feet + picking + found(of) + least) continue;
        const sounds = strings.map(
          (string, at) => (strung[string - 1] as number) + (ahead[at] as number),
        );
        const voicing: Voicing = {
          ...{ neck, fret, slant, strings, missing, pitches: sounds, pitchClasses: set },
          frets: ahead.map((frets) => fret + frets),
          ways: [choice],
        };
        const effort = effortOfVoicing(instrument, voicing, {}, of.chord);
        if (before !== undefined && before.price <= effort.total + least) continue;
        const move = moveBetween(setup, from, { ...voicing, engaged: choice });
        const price = effort.total + move.total;
        if (before !== undefined && before.price <= price) continue;
        if (before?.changes === changes) all.pop();
        all.push({ of, voicing, changes, effort, move, price });
        best.set(of, all);
      }
    }
  }
  return [...best.values()]
    .flat()
    .sort((a, b) => a.changes - b.changes || a.price - b.price)
    .map(({ price: _price, ...led }) => led);
}
