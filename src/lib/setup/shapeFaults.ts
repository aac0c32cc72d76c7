/** What each place of a setup file takes: the fault where it is missing, or is something else. */
import { type Listed } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { BOUNDS } from './bounds';
import { FORMATS, KEYS } from './setupFile';

type Bounds = readonly [least: number, most: number];
/** The fault of a value that its place does not take. */
type At = (path: string, value: unknown) => DocumentFault;

const within =
  (
    code:
      | 'value.text'
      | 'value.whole'
      | 'value.semitones'
      | 'value.millimetres'
      | 'value.inches'
      | 'value.hertz'
      | 'value.cents'
      | 'value.newtons'
      | 'value.usage'
      | 'value.leverage'
      | 'value.degrees',
    [least, most]: Bounds,
  ): At =>
  (path, value) =>
    fault(code, path, value, least, most);
const one =
  (code: 'value.trueOrFalse' | 'value.pitch' | 'value.station' | 'value.controlId'): At =>
  (path, value) =>
    fault(code, path, value);
const list =
  ([least, most]: Bounds, of: Listed): At =>
  (path, value) =>
    fault('value.list', path, value, least, most, of);
const anObject: At = (path, value) => fault('value.object', path, value);

/** By the last key of a path, after its list where that matters; `[]` is an item of a list. All other items are objects. */
const TAKEN: ReadonlyMap<string, At> = new Map(
  Object.entries<At>({
    format: (path, value) => fault('value.format', path, value, ...FORMATS),
    name: within('value.text', BOUNDS.name),
    notes: within('value.text', BOUNDS.notes),
    frets: within('value.whole', BOUNDS.frets),
    scaleLengthMm: within('value.millimetres', BOUNDS.scaleLengthMm),
    deadLengthMm: within('value.millimetres', BOUNDS.deadLengthMm),
    fingerRadiusMm: within('value.millimetres', BOUNDS.fingerRadiusMm),
    referenceHz: within('value.hertz', BOUNDS.referenceHz),
    splitStops: one('value.trueOrFalse'),
    changer: (path, value) => fault('value.object', path, value, KEYS.changer),
    raises: within('value.whole', BOUNDS.rods),
    lowers: within('value.whole', BOUNDS.rods),
    raiseHolesMm: list(BOUNDS.holes, 'distances in millimetres'),
    'raiseHolesMm[]': within('value.millimetres', BOUNDS.holeMm),
    lowerHolesMm: list(BOUNDS.holes, 'distances in millimetres'),
    'lowerHolesMm[]': within('value.millimetres', BOUNDS.holeMm),
    crankHolesMm: list(BOUNDS.holes, 'distances in millimetres'),
    'crankHolesMm[]': within('value.millimetres', BOUNDS.holeMm),
    shaftDepthMm: within('value.millimetres', BOUNDS.shaftDepthMm),
    shaftThickMm: within('value.millimetres', BOUNDS.shaftThickMm),
    rodMm: within('value.millimetres', BOUNDS.rodMm),
    reach: (path, value) => fault('value.object', path, value, KEYS.reach),
    pedalsAtOnce: within('value.whole', BOUNDS.pedalsAtOnce),
    kneeUpWithSideways: one('value.trueOrFalse'),
    never: list(BOUNDS.exceptions, 'combinations'),
    'never[]': list(BOUNDS.never, 'control ids'),
    'never[][]': one('value.controlId'),
    also: list(BOUNDS.exceptions, 'combinations'),
    'also[]': list(BOUNDS.also, 'control ids'),
    'also[][]': one('value.controlId'),
    necks: list(BOUNDS.necks, 'necks'),
    strings: list(BOUNDS.strings, 'strings'),
    open: one('value.pitch'),
    gauge: within('value.inches', BOUNDS.gauge),
    coreGauge: within('value.inches', BOUNDS.gauge),
    wound: one('value.trueOrFalse'),
    cents: within('value.cents', BOUNDS.cents),
    controls: list(BOUNDS.controls, 'controls'),
    id: within('value.text', BOUNDS.id),
    station: one('value.station'),
    pulls: list(BOUNDS.pulls, 'pulls'),
    neck: within('value.whole', BOUNDS.necks),
    string: within('value.whole', BOUNDS.strings),
    semitones: within('value.semitones', BOUNDS.semitones),
    half: within('value.semitones', BOUNDS.semitones),
    halfCents: within('value.cents', BOUNDS.cents),
    splitCents: within('value.cents', BOUNDS.cents),
    leverage: within('value.leverage', BOUNDS.leverage),
    hole: within('value.whole', BOUNDS.holes),
    crank: within('value.whole', BOUNDS.holes),
    shaftMm: within('value.millimetres', BOUNDS.shaftMm),
    turnDegrees: within('value.degrees', BOUNDS.turnDegrees),
    mostTurnDegrees: within('value.degrees', BOUNDS.turnDegrees),
    travelMm: within('value.millimetres', BOUNDS.travelMm),
    forceN: within('value.newtons', BOUNDS.forceN),
    springN: within('value.newtons', BOUNDS.springN),
    slackMm: within('value.millimetres', BOUNDS.slackMm),
    usage: within('value.usage', BOUNDS.usage),
    drops: list(BOUNDS.drops, 'drops'),
    'drops[].cents': within('value.cents', BOUNDS.dropCents),
  }),
);

/** The fault of what stands at a path of a setup file, or of nothing (`undefined`) standing there. */
export function shapeFault(path: string, value: unknown): DocumentFault {
  const keys = path.replace(/\[\d+\]/g, '[]').split('.');
  const taken = TAKEN.get(keys.slice(-2).join('.')) ?? TAKEN.get(keys.at(-1) ?? '') ?? anObject;
  const told = taken(path, value);
  return value === undefined ? fault('key.missing', path, told.allowed) : told;
}
