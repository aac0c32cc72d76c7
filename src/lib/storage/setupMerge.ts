/** Two edits of one setup as one: by its parts, controls by id, pulls and drops by their string. */
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import type { SetupFile } from '$lib/setup/setupFile';
import type { Reading } from './reading';
import { setupReading } from './setupReading';
import { merge3, same, type KeyOf, type Merged, type Three } from './threeWay';

/** A setup's file; the travel of a pull, with the half-stop on its way, is the one thing that it is. */
const partsOf = ({ controls, ...file }: SetupFile) => ({
  ...file,
  controls: controls.map(({ pulls, ...control }) => ({
    ...control,
    pulls: pulls.map(({ semitones, half, ...pull }) => ({
      ...pull,
      travel: half === undefined ? [semitones] : [semitones, half],
    })),
  })),
});

type Parts = ReturnType<typeof partsOf>;
type Control = Parts['controls'][number];

const fileOf = ({ controls, ...file }: Parts) => ({
  ...file,
  controls: controls.map(({ pulls, ...control }) => ({
    ...control,
    pulls: pulls.map(({ travel: [semitones, half], ...pull }) => ({
      ...pull,
      semitones,
      ...(half === undefined ? {} : { half }),
    })),
  })),
});

/** The same strings in the same places: numbers of strings mean what they meant. */
function strungAlike(base: Parts, side: Parts): boolean {
  if (base.necks.length !== side.necks.length) return false;
  return base.necks.every(({ strings }, neck) => {
    const now = side.necks[neck]?.strings ?? [];
    if (strings.length !== now.length) return false;
    // strings that have changed places are all still there
    const moved = now.filter((string, at) => !same(string, strings[at]));
    return moved.length < 2 || !moved.every((each) => strings.some((string) => same(string, each)));
  });
}

/** Controls under the ids that they had: one that was renamed is still at its station. */
function namesIn(base: Parts, side: Parts): ReadonlyMap<Control, string> {
  const ids = new Set(side.controls.map(({ id }) => id));
  return new Map(
    side.controls.map((control) => {
      if (base.controls.some(({ id }) => id === control.id)) return [control, control.id];
      const before = base.controls.find(
        ({ id, station }) => station === control.station && !ids.has(id),
      );
      return [control, before?.id ?? control.id];
    }),
  );
}

const place = (item: unknown): string => {
  const { neck = 1, string } = item as { neck?: number; string: number };
  return `${neck}:${string}`;
};

function keysIn(three: Three<Parts>): KeyOf {
  const names = new Map(
    [three.base, three.mine, three.theirs].flatMap((side) => [...namesIn(three.base, side)]),
  );
  return (path, item, index) => {
    if (path === 'controls') return names.get(item as Control);
    if (/\.(pulls|drops)$/.test(path)) return place(item);
    return /(^necks|\.strings)$/.test(path) ? String(index) : undefined;
  };
}

/** What numbers of strings stand in, which say nothing once strings are others. */
const numbered = ({ necks, controls }: Parts) => ({ necks, controls });

export function mergeSetups({ base, mine, theirs }: Three<Setup>): Merged<Setup, Reading> {
  const three = {
    base: partsOf(setupFileOf(base)),
    mine: partsOf(setupFileOf(mine)),
    theirs: partsOf(setupFileOf(theirs)),
  };
  const whole = (path: string): Reading =>
    setupReading({ path, mine: three.mine, theirs: three.theirs }, mine);
  const restrung = [three.mine, three.theirs].some((side) => !strungAlike(three.base, side));
  const both = [three.mine, three.theirs].every(
    (side) => !same(numbered(side), numbered(three.base)),
  );
  // strings and controls are then taken from one side, whole; the rest is merged
  const lead = restrung && both ? numbered(three.mine) : {};
  const sides = {
    base: { ...three.base, ...lead },
    mine: three.mine,
    theirs: { ...three.theirs, ...lead },
  };
  const { value, conflicts } = merge3(sides, keysIn(sides));
  const read = readSetup(fileOf(value as Parts));
  // two edits that each can be, and cannot be together
  if (!read.ok) return { value: mine, conflicts: [whole(restrung ? 'necks' : 'controls')] };
  const told = conflicts.map((each) => setupReading(each, mine));
  return {
    value: read.value,
    conflicts: restrung && both ? [...told, whole('necks')] : told,
  };
}
