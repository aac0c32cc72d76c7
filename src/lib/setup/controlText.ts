/**
 * A control in one short text, for the command line and for addresses: its station, a colon, its
 * pulls. A pull is the string's number and the semitones with their sign, `5-1` for string 5 down
 * by one; a half-stop stands before the full one, `2-1/-2`; a string of another neck than the first
 * carries the neck's number, `2.5+1`.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { signedToType } from '$lib/theory/signed';
import { mayHalt } from './halfStops';
import { STATIONS, type Control, type Pull, type Setup, type Station } from './setup';

const FORM = 'a station and its pulls, such as LKV:5-1,10-1 or RKR:2-1/-2,9-1';
const PULL = /^(?:([1-3])\.)?(\d{1,2})([+-]\d)(?:\/([+-]\d))?$/;

export const isStation = (text: string): text is Station =>
  (STATIONS as readonly string[]).includes(text);

/** The id for a control at a station: that of the one which is there, else the station's name. */
export function idAt(setup: Setup, station: Station): string {
  const there = setup.controls.find((control) => control.station === station);
  if (there !== undefined) return there.id;
  let id: string = station;
  while (setup.controls.some((control) => control.id === id)) id += '’';
  return id;
}

const stringName = (setup: Setup, neck: number, string: number): string =>
  setup.necks.length === 1 ? `string ${string}` : `string ${string} of neck ${neck}`;

function readPull(setup: Setup, text: string): Result<Pull, Fault> {
  const fault = (allowed: string): Result<never, Fault> =>
    refuse({ path: 'with', found: `“${text}”`, allowed });
  const match = PULL.exec(text);
  if (match === null)
    return fault('a pull such as 5-1 or 10+2, with a half-stop 2-1/-2, on a second neck 2.5+1');
  const neck = Number(match[1] ?? 1);
  const string = Number(match[2]);
  const first = Number(match[3]);
  const last = match[4] === undefined ? undefined : Number(match[4]);
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  if (string < 1 || string > count)
    return fault(
      count === 0
        ? `a neck that is there; this setup has ${setup.necks.length}`
        : `a string of that neck, 1 to ${count}`,
    );
  const semitones = last ?? first;
  if (semitones === 0 || Math.abs(semitones) > 7) return fault('1 to 7 semitones up or down');
  if (last === undefined) return ok({ neck, string, semitones });
  if (!mayHalt(last, first)) return fault('a half-stop on the way to the full one, such as 2-1/-2');
  return ok({ neck, string, semitones, half: first });
}

/** Reads a control that a setup could have. */
export function readControl(setup: Setup, text: string): Result<Control, Fault> {
  // a minus may come as the real sign
  const [station = '', pullText, ...more] = text
    .replaceAll('−', '-')
    .split(':')
    .map((part) => part.trim());
  const fault = (allowed: string): Result<never, Fault> =>
    refuse({ path: 'with', found: `“${text}”`, allowed });
  if (pullText === undefined || more.length > 0) return fault(FORM);
  if (!isStation(station)) return fault(`a station: ${STATIONS.join(', ')}`);
  const pulls: Pull[] = [];
  for (const part of pullText.split(',').map((each) => each.trim())) {
    if (part === '') continue;
    const pull = readPull(setup, part);
    if (!pull.ok) return pull;
    const { neck, string } = pull.value;
    if (pulls.some((each) => each.neck === neck && each.string === string))
      return fault(`one pull for ${stringName(setup, neck, string)}`);
    pulls.push(pull.value);
  }
  return ok({ id: idAt(setup, station), station, pulls });
}

/** A pull as `readControl` takes it: `5-1`, `2-1/-2`, `2.5+1`. */
const pullText = ({ neck, string, semitones, half }: Pull): string =>
  `${neck === 1 ? '' : `${neck}.`}${string}${half === undefined ? '' : `${signedToType(half)}/`}${signedToType(semitones)}`;

/** `LKV:5-1,10-1`: what `readControl` reads. */
export const controlText = ({ station, pulls }: Pick<Control, 'station' | 'pulls'>): string =>
  `${station}:${pulls.map(pullText).join(',')}`;

/** Does a text look like a control, whatever the setup can give of it? */
export const hasControlForm = (text: string): boolean => /^\s*\w+\s*:[\d\s.,+\-−/]*$/.test(text);
