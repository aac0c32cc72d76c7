/**
 * A control in one short text, for the command line and for addresses: its station, a colon, its
 * pulls. A pull is the string's number and the semitones with their sign, `5-1` for string 5 down
 * by one; a half-stop stands before the full one, `2-1/-2`; a string of another neck than the first
 * carries the neck's number, `2.5+1`.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { ok, refuse, type Result } from '$lib/result';
import { signedToType } from '$lib/theory/signed';
import { mayHalt } from './halfStops';
import { BOUNDS } from './bounds';
import { STATIONS, type Control, type Pull, type Setup, type Station } from './setup';

const MOST = BOUNDS.semitones[1];
const PULL = /^(?:([1-3])\.)?(\d{1,2})([+-]\d)(?:\/([+-]\d))?$/;

/** Is a text the name of a station, such as `P1` or `LKV`? */
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

function readPull(setup: Setup, text: string): Result<Pull, DocumentFault> {
  const match = PULL.exec(text);
  if (match === null) return refuse(fault('control.pull', 'with', text));
  const neck = Number(match[1] ?? 1);
  const string = Number(match[2]);
  const first = Number(match[3]);
  const last = match[4] === undefined ? undefined : Number(match[4]);
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  if (string < 1 || string > count)
    return refuse(
      count === 0
        ? fault('control.neck', 'with', text, setup.necks.length)
        : fault('control.string', 'with', text, count),
    );
  const semitones = last ?? first;
  if (semitones === 0 || Math.abs(semitones) > MOST)
    return refuse(fault('control.semitones', 'with', text, MOST));
  if (last === undefined) return ok({ neck, string, semitones });
  if (!mayHalt(last, first)) return refuse(fault('control.half', 'with', text));
  return ok({ neck, string, semitones, half: first });
}

/** Reads a control that a setup could have. */
export function readControl(setup: Setup, text: string): Result<Control, DocumentFault> {
  // a minus may come as the real sign
  const [station = '', pullText, ...more] = text
    .replaceAll('−', '-')
    .split(':')
    .map((part) => part.trim());
  if (pullText === undefined || more.length > 0) return refuse(fault('control.form', 'with', text));
  if (!isStation(station)) return refuse(fault('control.station', 'with', text, STATIONS));
  const pulls: Pull[] = [];
  for (const part of pullText.split(',').map((each) => each.trim())) {
    if (part === '') continue;
    const pull = readPull(setup, part);
    if (!pull.ok) return pull;
    const { neck, string } = pull.value;
    if (pulls.some((each) => each.neck === neck && each.string === string))
      return refuse(
        fault(
          'control.pullTwice',
          'with',
          text,
          string,
          setup.necks.length === 1 ? undefined : neck,
        ),
      );
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
