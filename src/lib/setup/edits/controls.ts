/** Adding, removing and naming pedals and levers. */
import { refuse } from '$lib/result';
import { STATIONS, type Setup, type Station } from '../setup';
import { BOUNDS } from '../bounds';
import { edited, type Edited } from './edited';
import { renamed } from './stations';

/** Stations where there is no control yet, left to right as the player sits. */
export const freeStations = (setup: Setup): Station[] =>
  STATIONS.filter((station) => !setup.controls.some((control) => control.station === station));

/** A control that moves nothing yet, listed before those that stand right of it. */
export function addControl(setup: Setup, station: Station, id: string = station): Edited {
  const taken = setup.controls.find((control) => control.station === station);
  if (taken !== undefined) return refuse(`At ${station} there is ${taken.id} already.`);
  const refused = idFault(setup, id);
  if (refused !== undefined) return refuse(refused);
  const order = (each: Station): number => STATIONS.indexOf(each);
  const at = setup.controls.findIndex((control) => order(control.station) > order(station));
  const controls = [...setup.controls];
  controls.splice(at < 0 ? controls.length : at, 0, { id, station, pulls: [] });
  return edited({ ...setup, controls });
}

/** Takes a control away, and the exceptions from the reach that name it. */
export function removeControl(setup: Setup, id: string): Edited {
  const { never, also, ...reach } = setup.reach;
  const without = (sets: readonly (readonly string[])[] = []): (readonly string[])[] =>
    sets.filter((ids) => !ids.includes(id));
  return edited({
    ...setup,
    reach: { ...reach, never: without(never), also: without(also) },
    controls: setup.controls.filter((control) => control.id !== id),
  });
}

/** Why a control cannot be called so; `undefined` where it can. */
function idFault(setup: Setup, id: string): string | undefined {
  if (id === '') return 'A control needs an id.';
  if (id.length > BOUNDS.id[1]) return `An id has at most ${BOUNDS.id[1]} characters.`;
  if (/[\s,:+]/.test(id)) return 'An id is one word without comma, colon or plus.';
  return setup.controls.some((control) => control.id === id)
    ? `There is another control ${id}.`
    : undefined;
}

/** Calls a control otherwise, in the exceptions from the reach too. An id is one word of its own. */
export function setId(setup: Setup, id: string, text: string): Edited {
  const next = text.trim();
  if (next === id) return edited(setup);
  const refused = idFault(setup, next);
  if (refused !== undefined) return refuse(refused);
  return edited(renamed(setup, (each) => (each === id ? next : each)));
}
