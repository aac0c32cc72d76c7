/**
 * The rules of a setup file that a shape cannot say: names that must differ, strings that must
 * exist, half-stops on the way to their full stop. They are read from the parsed document, so that a
 * fault in one place never hides the faults in another.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { parsePitch } from '$lib/theory/pitch';
import { formatFaults } from './formats';
import { halfStopsOf, mayHalt } from './halfStops';
import { isRecord, listOf, recordsIn, type Parsed } from './parsed';
import { BOUNDS } from './bounds';
import { shapeFault } from './shapeFaults';

/** Open strings must be pitches that an instrument can have. */
function openStringFaults(file: Parsed): DocumentFault[] {
  return recordsIn(file['necks']).flatMap(([neck, n]) =>
    recordsIn(neck['strings']).flatMap(([string, s]) => {
      const open = string['open'];
      if (typeof open !== 'string') return [];
      const pitch = parsePitch(open);
      const [low, high] = BOUNDS.openMidi;
      if (pitch !== undefined ? pitch.midi >= low && pitch.midi <= high : !/\d$/.test(open))
        return [];
      return [shapeFault(`necks[${n}].strings[${s}].open`, open)];
    }),
  );
}

/** Values of one key that stand more than once; each later one is the fault. */
function repeated(
  controls: readonly (readonly [Parsed, number])[],
  key: 'id' | 'station',
): DocumentFault[] {
  const firstAt = new Map<unknown, number>();
  const faults: DocumentFault[] = [];
  for (const [control, index] of controls) {
    const value = control[key];
    if (typeof value !== 'string') continue;
    const earlier = firstAt.get(value);
    if (earlier === undefined) firstAt.set(value, index);
    else faults.push(fault(`${key}.twice`, `controls[${index}].${key}`, value, earlier));
  }
  return faults;
}

const isWhole = (value: unknown): value is number => Number.isInteger(value);

/** A neck or string that the setup has not got. */
function noSuchString(
  necks: readonly unknown[],
  neck: unknown,
  string: unknown,
  path: string,
): DocumentFault[] {
  // where there are no necks or no strings at all, that is the fault, and not the pulls
  if (!isWhole(neck) || neck < 1 || neck > BOUNDS.necks[1] || necks.length === 0) return [];
  const target = necks[neck - 1];
  if (target === undefined) return [fault('neck.absent', `${path}.neck`, neck, necks.length)];
  if (!isRecord(target) || !Array.isArray(target['strings']) || !isWhole(string)) return [];
  const count = target['strings'].length;
  if (count === 0 || string <= count || string > BOUNDS.strings[1]) return [];
  return [fault('string.absent', `${path}.string`, string, neck, count)];
}

function pullFaults(file: Parsed): DocumentFault[] {
  const necks = listOf(file['necks']);
  const faults: DocumentFault[] = [];
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
        else faults.push(fault('pull.twice', path, string, neck, earlier));
      }

      if (isWhole(semitones) && isWhole(half) && semitones !== 0 && half !== 0) {
        const stops = halfStopsOf(semitones);
        if (!mayHalt(semitones, half))
          faults.push(
            stops === undefined
              ? fault('half.ofOneSemitone', `${path}.half`, half)
              : fault('half.notOnTheWay', `${path}.half`, half, semitones, stops),
          );
      }
      if (pull['halfCents'] !== undefined && half === undefined)
        faults.push(fault('halfCents.withoutHalf', `${path}.halfCents`, pull['halfCents']));
      if (pull['splitCents'] !== undefined && isWhole(semitones) && semitones > 0)
        faults.push(fault('splitCents.ofRaise', `${path}.splitCents`, pull['splitCents']));
    }
  }
  return faults;
}

/** Slack is a part of the travel, where that is told. */
const slackFaults = (file: Parsed): DocumentFault[] =>
  recordsIn(file['controls']).flatMap(([{ slackMm, travelMm }, c]) =>
    typeof slackMm === 'number' && typeof travelMm === 'number' && slackMm >= travelMm
      ? [fault('slack.asLongAsTravel', `controls[${c}].slackMm`, slackMm, travelMm)]
      : [],
  );

/** Rods are as many as the holes told for them, and a stop is not set farther than it goes. */
function rigFaults(file: Parsed): DocumentFault[] {
  const { changer } = file;
  const counted = (['raises', 'lowers'] as const).flatMap((key) => {
    if (!isRecord(changer)) return [];
    const rods = changer[key];
    const holes = changer[key === 'raises' ? 'raiseHolesMm' : 'lowerHolesMm'];
    return isWhole(rods) && Array.isArray(holes) && holes.length !== rods
      ? [fault('rods.unlikeHoles', `changer.${key}`, rods, holes.length)]
      : [];
  });
  const turned = recordsIn(file['controls']).flatMap(([{ turnDegrees, mostTurnDegrees }, c]) =>
    typeof turnDegrees === 'number' &&
    typeof mostTurnDegrees === 'number' &&
    turnDegrees > mostTurnDegrees
      ? [fault('turn.beyondMost', `controls[${c}].turnDegrees`, turnDegrees, mostTurnDegrees)]
      : [],
  );
  return [...counted, ...turned];
}

/** Drops are measured on other strings than those that the control pulls, once each. */
function dropFaults(file: Parsed): DocumentFault[] {
  const necks = listOf(file['necks']);
  const faults: DocumentFault[] = [];
  // whatever is no number is a fault elsewhere; nothing may be asked to become text by its own lights
  const stringOf = ({ neck = 1, string }: Parsed): string =>
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
      else faults.push(fault('drop.twice', path, string, neck, earlier));
      if (pulled.has(stringOf(drop))) faults.push(fault('drop.ofPulledString', path, string, neck));
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
function exceptionFaults(file: Parsed): DocumentFault[] {
  const reach = file['reach'];
  if (!isRecord(reach)) return [];
  const known = new Set(recordsIn(file['controls']).map(([control]) => control['id']));
  const faults: DocumentFault[] = [];
  const never = listOf(reach['never']).slice(0, BOUNDS.exceptions[1]).map(listOf);
  for (const list of EXCEPTIONS) {
    const firstAt = new Map<string, number>();
    for (const [index, set] of listOf(reach[list]).slice(0, BOUNDS.exceptions[1]).entries()) {
      const path = `reach.${list}[${index}]`;
      const ids = listOf(set).slice(0, BOUNDS[list][1]);
      ids.forEach((id, nth) => {
        if (typeof id !== 'string' || id === '') return;
        if (ids.indexOf(id) < nth) faults.push(fault('combination.idTwice', `${path}[${nth}]`, id));
        else if (id.length <= BOUNDS.id[1] && !known.has(id))
          faults.push(fault('combination.idUnknown', `${path}[${nth}]`, id));
      });
      if (ids.length === 0) continue;
      const earlier = firstAt.get(setKey(ids));
      if (earlier === undefined) firstAt.set(setKey(ids), index);
      else faults.push(fault('combination.twice', path, list, earlier));
      const off =
        list === 'never'
          ? -1
          : never.findIndex((each) => each.length > 0 && each.every((id) => ids.includes(id)));
      if (off >= 0) faults.push(fault('combination.switchedOff', path, off));
    }
  }
  return faults;
}

/** Every fault against the rules between places; an empty list where there is none. */
export function ruleFaults(file: unknown): DocumentFault[] {
  if (!isRecord(file)) return [];
  const controls = recordsIn(file['controls']);
  return [
    ...openStringFaults(file),
    ...repeated(controls, 'id'),
    ...repeated(controls, 'station'),
    ...pullFaults(file),
    ...exceptionFaults(file),
    ...dropFaults(file),
    ...slackFaults(file),
    ...rigFaults(file),
    ...formatFaults(file),
  ];
}
