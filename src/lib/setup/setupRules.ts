/**
 * The rules of a setup file that a shape cannot say: names that must differ, strings that must
 * exist, half-stops on the way to their full stop, keys that nobody knows. They are read from the
 * raw document, so that a fault in one place never hides the faults in another.
 */
import type { Fault } from '$lib/result';
import { parsePitch } from '$lib/theory/pitch';
import { BOUNDS, SetupShape } from './setupFile';
import { A_PITCH, allowedAt } from './allowed';
import { found } from './faultText';
import { halfStopsOf, mayHalt } from './halfStops';

type Raw = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const recordsIn = (value: unknown): (readonly [Raw, number])[] =>
  listOf(value).flatMap((item, index) => (isRecord(item) ? [[item, index] as const] : []));

const shape = SetupShape.entries;
const neckShape = shape.necks.pipe[0].item.entries;
const stringShape = neckShape.strings.pipe[0].item.entries;
const controlShape = shape.controls.pipe[0].item.entries;
const pullShape = controlShape.pulls.pipe[0].item.entries;
const dropShape = controlShape.drops.wrapped.pipe[0].item.entries;
const reachShape = shape.reach.wrapped.entries;

/** Lists where an object must stand: the shape takes them for objects that lack their keys. */
export function listsForObjects(file: unknown): Fault[] {
  const faults: Fault[] = [];
  const check = (value: unknown, path: string, allowed: string): void => {
    if (Array.isArray(value)) faults.push({ path, found: found(value), allowed });
  };
  const each = (value: unknown, path: string): (readonly [unknown, string])[] =>
    listOf(value).map((item, index) => [item, `${path}[${index}]`] as const);
  const inside = (value: unknown, key: string): unknown =>
    isRecord(value) ? value[key] : undefined;

  check(inside(file, 'reach'), 'reach', allowedAt('reach'));
  for (const [list, parts] of [
    ['necks', 'strings'],
    ['controls', 'pulls'],
    ['controls', 'drops'],
  ] as const)
    for (const [item, path] of each(inside(file, list), list)) {
      if (parts !== 'drops') check(item, path, 'an object');
      for (const [part, place] of each(inside(item, parts), `${path}.${parts}`))
        check(part, place, 'an object');
    }
  return faults;
}

/** Every key of an object that the format does not know. */
function unknownKeys(value: unknown, known: object, path: string): Fault[] {
  if (!isRecord(value)) return [];
  const names = Object.keys(known);
  return Object.keys(value)
    .filter((key) => !names.includes(key))
    .map((key) => ({
      path: path === '' ? key : `${path}.${key}`,
      found: `the key “${key}”`,
      allowed: `only the keys ${names.join(', ')}`,
    }));
}

function unknownKeysIn(file: Raw): Fault[] {
  return [
    ...unknownKeys(file, shape, ''),
    ...unknownKeys(file['reach'], reachShape, 'reach'),
    ...recordsIn(file['necks']).flatMap(([neck, n]) => [
      ...unknownKeys(neck, neckShape, `necks[${n}]`),
      ...recordsIn(neck['strings']).flatMap(([string, s]) =>
        unknownKeys(string, stringShape, `necks[${n}].strings[${s}]`),
      ),
    ]),
    ...recordsIn(file['controls']).flatMap(([control, c]) => [
      ...unknownKeys(control, controlShape, `controls[${c}]`),
      ...recordsIn(control['pulls']).flatMap(([pull, p]) =>
        unknownKeys(pull, pullShape, `controls[${c}].pulls[${p}]`),
      ),
      ...recordsIn(control['drops']).flatMap(([drop, d]) =>
        unknownKeys(drop, dropShape, `controls[${c}].drops[${d}]`),
      ),
    ]),
  ];
}

/** Open strings must be pitches that an instrument can have. */
function openStringFaults(file: Raw): Fault[] {
  return recordsIn(file['necks']).flatMap(([neck, n]) =>
    recordsIn(neck['strings']).flatMap(([string, s]) => {
      const open = string['open'];
      if (typeof open !== 'string') return [];
      const pitch = parsePitch(open);
      const [low, high] = BOUNDS.openMidi;
      if (pitch !== undefined ? pitch.midi >= low && pitch.midi <= high : !/\d$/.test(open))
        return [];
      return [
        {
          path: `necks[${n}].strings[${s}].open`,
          found: found(open),
          allowed: A_PITCH,
        },
      ];
    }),
  );
}

/** Values of one key that stand more than once; each later one is the fault. */
function repeated(controls: readonly (readonly [Raw, number])[], key: 'id' | 'station'): Fault[] {
  const firstAt = new Map<unknown, number>();
  const faults: Fault[] = [];
  for (const [control, index] of controls) {
    const value = control[key];
    if (typeof value !== 'string') continue;
    const earlier = firstAt.get(value);
    if (earlier === undefined) firstAt.set(value, index);
    else
      faults.push({
        path: `controls[${index}].${key}`,
        found: `${found(value)} again (first at controls[${earlier}])`,
        allowed: key === 'id' ? 'an id of its own for every control' : 'one control a station',
      });
  }
  return faults;
}

const isWhole = (value: unknown): value is number => Number.isInteger(value);

const range = (from: number, to: number): string => (from === to ? `${from}` : `${from} to ${to}`);

/** A neck or string that the setup has not got. */
function noSuchString(
  necks: readonly unknown[],
  neck: unknown,
  string: unknown,
  path: string,
): Fault[] {
  // where there are no necks or no strings at all, that is the fault, and not the pulls
  if (!isWhole(neck) || neck < 1 || neck > BOUNDS.necks[1] || necks.length === 0) return [];
  const target = necks[neck - 1];
  if (target === undefined)
    return [
      {
        path: `${path}.neck`,
        found: found(neck),
        allowed: `a neck of this setup, ${range(1, necks.length)}`,
      },
    ];
  if (!isRecord(target) || !Array.isArray(target['strings']) || !isWhole(string)) return [];
  const count = target['strings'].length;
  if (count === 0 || string <= count || string > BOUNDS.strings[1]) return [];
  return [
    {
      path: `${path}.string`,
      found: found(string),
      allowed: `a string of neck ${neck}, ${range(1, count)}`,
    },
  ];
}

function pullFaults(file: Raw): Fault[] {
  const necks = listOf(file['necks']);
  const faults: Fault[] = [];
  for (const [control, c] of recordsIn(file['controls'])) {
    const firstAt = new Map<string, number>();
    // a list that is too long is one fault, not thousands
    for (const [pull, p] of recordsIn(control['pulls']).slice(0, BOUNDS.pulls[1])) {
      const path = `controls[${c}].pulls[${p}]`;
      const neck = pull['neck'] === undefined ? 1 : pull['neck'];
      const { string, semitones, half } = pull;

      faults.push(...noSuchString(necks, neck, string, path));

      if (isWhole(neck) && isWhole(string)) {
        const key = `${neck}/${string}`;
        const earlier = firstAt.get(key);
        if (earlier === undefined) firstAt.set(key, p);
        else
          faults.push({
            path,
            found: `a second pull on string ${string} of neck ${neck} (first at pulls[${earlier}])`,
            allowed: 'one pull a string and neck in a control',
          });
      }

      if (isWhole(semitones) && isWhole(half) && semitones !== 0 && half !== 0) {
        const stops = halfStopsOf(semitones);
        if (!mayHalt(semitones, half))
          faults.push({
            path: `${path}.half`,
            found: found(half),
            allowed:
              stops === undefined
                ? 'no half-stop: a pull of one semitone has no whole step on the way'
                : `a stop on the way to ${semitones}: ${range(...stops)}`,
          });
      }
      if (pull['halfCents'] !== undefined && half === undefined)
        faults.push({
          path: `${path}.halfCents`,
          found: found(pull['halfCents']),
          allowed: 'a target only where the pull has a half-stop',
        });
    }
  }
  return faults;
}

/** Drops are measured on other strings than those that the control pulls, once each. */
function dropFaults(file: Raw): Fault[] {
  const necks = listOf(file['necks']);
  const faults: Fault[] = [];
  // whatever is no number is a fault elsewhere; nothing may be asked to become text by its own lights
  const stringOf = ({ neck = 1, string }: Raw): string =>
    isWhole(neck) && isWhole(string) ? `${neck}/${string}` : '';
  for (const [control, c] of recordsIn(file['controls'])) {
    const pulled = new Set(recordsIn(control['pulls']).map(([pull]) => stringOf(pull)));
    const firstAt = new Map<string, number>();
    for (const [drop, d] of recordsIn(control['drops']).slice(0, BOUNDS.drops[1])) {
      const path = `controls[${c}].drops[${d}]`;
      const { neck = 1, string } = drop;
      faults.push(...noSuchString(necks, neck, string, path));
      if (!isWhole(neck) || !isWhole(string)) continue;
      const earlier = firstAt.get(stringOf(drop));
      if (earlier === undefined) firstAt.set(stringOf(drop), d);
      else
        faults.push({
          path,
          found: `a second drop of string ${string} of neck ${neck} (first at drops[${earlier}])`,
          allowed: 'one drop a string and neck in a control',
        });
      if (pulled.has(stringOf(drop)))
        faults.push({
          path,
          found: `string ${string} of neck ${neck}, which this control pulls itself`,
          allowed: 'a string that the control does not pull',
        });
    }
  }
  return faults;
}

const EXCEPTIONS = ['never', 'also'] as const;

/** The ids of a set in a fixed order, so that equal sets have equal texts. */
const setKey = (ids: readonly unknown[]): string =>
  ids
    .map((id) => JSON.stringify(id))
    .sort()
    .join();

/** Exceptions from the reach: controls that exist, named once; combinations listed once and in one list. */
function exceptionFaults(file: Raw): Fault[] {
  const reach = file['reach'];
  if (!isRecord(reach)) return [];
  const known = new Set(recordsIn(file['controls']).map(([control]) => control['id']));
  const faults: Fault[] = [];
  const never = listOf(reach['never']).slice(0, BOUNDS.exceptions[1]).map(listOf);
  for (const list of EXCEPTIONS) {
    const firstAt = new Map<string, number>();
    for (const [index, set] of listOf(reach[list]).slice(0, BOUNDS.exceptions[1]).entries()) {
      const path = `reach.${list}[${index}]`;
      const ids = listOf(set).slice(0, BOUNDS[list][1]);
      ids.forEach((id, place) => {
        if (typeof id !== 'string' || id === '') return;
        if (ids.indexOf(id) < place)
          faults.push({
            path: `${path}[${place}]`,
            found: `${found(id)} again`,
            allowed: 'each control once in a combination',
          });
        else if (id.length <= BOUNDS.id[1] && !known.has(id))
          faults.push({
            path: `${path}[${place}]`,
            found: found(id),
            allowed: 'the id of a control of this setup',
          });
      });
      if (ids.length === 0) continue;
      const earlier = firstAt.get(setKey(ids));
      if (earlier === undefined) firstAt.set(setKey(ids), index);
      else
        faults.push({
          path,
          found: `the combination of ${list}[${earlier}] again`,
          allowed: 'each combination once',
        });
      const off =
        list === 'never'
          ? -1
          : never.findIndex((each) => each.length > 0 && each.every((id) => ids.includes(id)));
      if (off >= 0)
        faults.push({
          path,
          found: `a combination that holds all of never[${off}]`,
          allowed: 'a combination that is not switched off in the same file',
        });
    }
  }
  return faults;
}

/** Every fault against the rules between places; an empty list where there is none. */
export function ruleFaults(file: unknown): Fault[] {
  if (!isRecord(file)) return [];
  const controls = recordsIn(file['controls']);
  return [
    ...unknownKeysIn(file),
    ...openStringFaults(file),
    ...repeated(controls, 'id'),
    ...repeated(controls, 'station'),
    ...pullFaults(file),
    ...exceptionFaults(file),

    ...dropFaults(file),
  ];
}
