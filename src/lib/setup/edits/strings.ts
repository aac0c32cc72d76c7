/** Edits of a neck's strings. A string's pulls go where it goes. */
import { refuse } from '$lib/result';
import { parsePitch } from '$lib/theory/pitch';
import type { Neck, Pull, Setup, SetupString } from '../setup';
import { BOUNDS } from '../bounds';
import { edited, type Edited } from './edited';
import { nextOpen } from './nextString';
import { readWire } from './wireText';
import { retuned } from './retune';

/** The setup with another neck in a neck's place. */
export const withNeck = (setup: Setup, neck: number, next: Neck): Setup => ({
  ...setup,
  necks: setup.necks.map((each, index) => (index === neck - 1 ? next : each)),
});

/** What a control does to one string: a pull, or a measured drop. */
type OnString = Pick<Pull, 'neck' | 'string'>;

/** Every pull and drop sent where `to` says; those that it sends nowhere go. */
export const rerouted = (
  setup: Setup,
  to: <T extends OnString>(pull: T) => T | undefined,
): Setup => ({
  ...setup,
  controls: setup.controls.map(({ drops, ...control }) => ({
    ...control,
    pulls: control.pulls.flatMap((pull) => to(pull) ?? []),
    ...(drops === undefined ? {} : { drops: drops.flatMap((drop) => to(drop) ?? []) }),
  })),
});

function withString(
  setup: Setup,
  neck: number,
  string: number,
  change: (string: SetupString) => SetupString,
): Edited {
  const there = setup.necks[neck - 1];
  if (there?.strings[string - 1] === undefined) return refuse(`There is no string ${string}.`);
  const strings = there.strings.map((each, index) => (index === string - 1 ? change(each) : each));
  return edited(withNeck(setup, neck, { ...there, strings }));
}

/** Tunes an open string to a pitch such as `F#4`; without an octave, to the near note of that name. */
export function setOpen(setup: Setup, neck: number, string: number, text: string): Edited {
  const now = setup.necks[neck - 1]?.strings[string - 1]?.open;
  const octaves = now === undefined ? [] : [now.octave, now.octave - 1, now.octave + 1];
  const near = octaves
    .flatMap((octave) => parsePitch(`${text.trim()}${octave}`) ?? [])
    .sort((a, b) => Math.abs(a.midi - (now?.midi ?? 0)) - Math.abs(b.midi - (now?.midi ?? 0)));
  const open = parsePitch(text) ?? (/\d/.test(text) ? undefined : near[0]);
  if (open === undefined)
    return refuse(`“${text}” is no pitch; write one such as F#4 or Bb2 (C4 is middle C).`);
  return withString(setup, neck, string, (each) => ({ ...each, open }));
}

/** Tunes an open string a semitone up or down. */
export function nudgeOpen(setup: Setup, neck: number, string: number, by: 1 | -1): Edited {
  return withString(setup, neck, string, (each) => ({ ...each, open: retuned(each.open, by) }));
}

/** Sets gauge, winding and core from a text such as `.036w/.016`. */
export function setWire(setup: Setup, neck: number, string: number, text: string): Edited {
  const wire = readWire(text);
  if (!wire.ok) return wire;
  return withString(setup, neck, string, ({ gauge: _g, wound: _w, coreGauge: _c, ...rest }) => ({
    ...rest,
    ...wire.value,
  }));
}

/**
 * A further string before string `at` (after the last where `at` is one more), tuned as `nextOpen` says.
 */
export function addString(setup: Setup, neck: number, at: number): Edited {
  const there = setup.necks[neck - 1];
  if (there === undefined) return refuse(`There is no neck ${neck}.`);
  if (there.strings.length >= BOUNDS.strings[1])
    return refuse(`A neck has at most ${BOUNDS.strings[1]} strings.`);
  const strings = [...there.strings];
  strings.splice(at - 1, 0, { open: nextOpen(there, at) });
  const later = rerouted(setup, (pull) =>
    pull.neck === neck && pull.string >= at ? { ...pull, string: pull.string + 1 } : pull,
  );
  return edited(withNeck(later, neck, { ...there, strings }));
}

/**
 * Takes a string (neck and string from 1) away with its pulls; those after it move up by one. The last one
 * stays.
 */
export function removeString(setup: Setup, neck: number, string: number): Edited {
  const there = setup.necks[neck - 1];
  if (there?.strings[string - 1] === undefined) return refuse(`There is no string ${string}.`);
  if (there.strings.length <= BOUNDS.strings[0]) return refuse('A neck has at least one string.');
  const strings = there.strings.filter((_, index) => index !== string - 1);
  const left = rerouted(setup, (pull) => {
    if (pull.neck !== neck || pull.string < string) return pull;
    return pull.string === string ? undefined : { ...pull, string: pull.string - 1 };
  });
  return edited(withNeck(left, neck, { ...there, strings }));
}

/** A string takes another's place; those between move up or down by one. */
export function moveString(setup: Setup, neck: number, from: number, to: number): Edited {
  const there = setup.necks[neck - 1];
  const string = there?.strings[from - 1];
  if (there === undefined || string === undefined || there.strings[to - 1] === undefined)
    return refuse(`There is no string ${string === undefined ? from : to}.`);
  const strings = there.strings.filter((_, index) => index !== from - 1);
  strings.splice(to - 1, 0, string);
  const numberOf = (before: number): number => {
    if (before === from) return to;
    if (from < to) return before > from && before <= to ? before - 1 : before;
    return before >= to && before < from ? before + 1 : before;
  };
  const along = rerouted(setup, (pull) =>
    pull.neck === neck ? { ...pull, string: numberOf(pull.string) } : pull,
  );
  return edited(withNeck(along, neck, { ...there, strings }));
}
