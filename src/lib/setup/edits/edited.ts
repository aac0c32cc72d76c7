/**
 * What every edit of a setup ends in: the new setup, or a sentence that says why it cannot be. An
 * edited setup goes through the same door as a file, so that no edit makes what a file may not say.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { readSetup } from '../readSetup';
import type { Setup } from '../setup';
import { setupFileOf } from '../writeSetup';

export type Edited = Result<Setup, string>;

/** `controls[0].pulls[1].half` as a player says it: `A on string 10, half-stop`. */
export function pathWords(setup: Setup, path: string): string {
  const [, list, index = '', part, partIndex = '', rest = ''] =
    /^(\w+)(?:\[(\d+)\])?(?:\.(pulls|strings)\[(\d+)\])?\.?(.*)$/.exec(path) ?? [];
  const tail = rest === '' || rest === 'semitones' ? '' : `, ${WORDS[rest] ?? rest}`;
  if (list === 'necks' && index !== '') {
    const neck = setup.necks[Number(index)]?.name ?? '';
    return part === undefined
      ? `${neck}${tail}`
      : `${neck}, string ${Number(partIndex) + 1}${tail}`;
  }
  if (list === 'controls' && index !== '') {
    const control = setup.controls[Number(index)];
    const pull = control?.pulls[Number(partIndex)];
    return part === undefined
      ? `${control?.id ?? ''}${tail}`
      : `${control?.id ?? ''} on string ${pull?.string ?? ''}${tail}`;
  }
  return WORDS[path] ?? path;
}

const WORDS: Readonly<Record<string, string>> = {
  name: 'name',
  notes: 'notes',
  frets: 'Frets',
  scaleLengthMm: 'Scale length',
  referenceHz: 'Reference pitch',
  splitStops: 'Split stops',
  open: 'open note',
  gauge: 'gauge',
  coreGauge: 'core',
  half: 'half-stop',
  forceN: 'force',
  springN: 'return spring',
  shaftMm: 'place of the cross shaft',
  turnDegrees: 'turn of the cross shaft',
  mostTurnDegrees: 'most turn of the cross shaft',
  hole: 'hole at the changer',
  crank: 'hole of the bell crank',
  raiseHolesMm: 'raise holes',
  lowerHolesMm: 'lower holes',
  'changer.raises': 'Raises of a finger',
  'changer.lowers': 'Lowers of a finger',
  'changer.raiseHolesMm': 'Raise holes',
  'changer.lowerHolesMm': 'Lower holes',
  'changer.crankHolesMm': 'Holes of the bell cranks',
  'changer.shaftDepthMm': 'Depth of the cross shafts',
  'changer.shaftThickMm': 'Thickness of the cross shafts',
  'changer.rodMm': 'Thickness of the rods',
  slackMm: 'slack',
  usage: 'use',
  fingerRadiusMm: 'Finger radius',
  id: 'id',
  station: 'station',
  necks: 'Necks',
  controls: 'Controls',
};

/** A part of a string, a control or a pull by its key in the file. */
export const partWords = (key: string): string => WORDS[key] ?? key;

const sentenceOf = (setup: Setup, { path, found, allowed }: Fault): string =>
  `${pathWords(setup, path)}: found ${found}; allowed is ${allowed}.`;

/** An edit that is asked of the same setup once more gives what it gave: it is validated once. */
export function remembered(edit: (setup: Setup) => Edited): (setup: Setup) => Edited {
  let last: { readonly of: Setup; readonly made: Edited } | undefined;
  return (setup) => {
    if (last?.of !== setup) last = { of: setup, made: edit(setup) };
    return last.made;
  };
}

/** A new setup, if a file may say it. */
export function edited(next: Setup): Edited {
  const read = readSetup(setupFileOf(next));
  return read.ok
    ? ok(read.value)
    : refuse(read.error.map((fault) => sentenceOf(next, fault)).join(' '));
}
