/** A place of a setup of which two tabs say something else, as a player says it. */
import { isRecord } from '$lib/setup/parsed';
import { partWords, pathWords } from '$lib/setup/edits/edited';
import { travelText } from '$lib/setup/edits/travelText';
import type { Setup } from '$lib/setup/setup';
import { changedBoth, readingOf, type Reading } from './reading';
import type { Conflict } from './threeWay';

/** `controls[A].pulls[1:5].travel`: a control by its id, a pull by neck and string. */
const CONTROL = /^controls\[(.*?)\](?:\.(pulls|drops)\[(\d+):(\d+)\])?(?:\.(\w+))?$/u;

/** A pull as it stands in its cell, from its travel or whole. */
function travelOf(value: unknown): string | undefined {
  const travel: unknown = isRecord(value) && !Array.isArray(value) ? value.travel : value;
  if (!Array.isArray(travel)) return undefined;
  const [semitones, half] = travel as readonly unknown[];
  if (typeof semitones !== 'number') return undefined;
  return travelText({ semitones, ...(typeof half === 'number' ? { half } : {}) });
}

export function setupReading(conflict: Conflict, setup: Setup): Reading {
  const { path } = conflict;
  const [control, id = '', part, neck = '1', string = '', key] = CONTROL.exec(path) ?? [];
  if (control !== undefined) {
    const where = setup.necks.length > 1 ? `${setup.necks[Number(neck) - 1]?.name ?? ''}, ` : '';
    const on = part === undefined ? id : `${id} on ${where}string ${string}`;
    const place = part === 'drops' ? `${on}, drop` : on;
    return key === undefined || key === 'travel'
      ? readingOf(place, conflict, travelOf)
      : readingOf(`${place}, ${partWords(key)}`, conflict);
  }
  if (path === 'necks') return changedBoth('the strings, which pulls are numbered by');
  if (path === 'controls') return changedBoth('pedals and levers');
  if (path.startsWith('reach')) return changedBoth('what can be reached');
  return readingOf(pathWords(setup, path), conflict);
}
