/**
 * Locks and what single chords are freed from, as text: `2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5`. Chords
 * are counted from 1 through the whole piece, `N.C.` too.
 */
import { chromaOf, nameText, pitchNamed, pitchText } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import { engagedCode } from '$lib/setup/engagedText';
import { unreachable } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { FRET, MATCH, SIZES } from './commonOptions';
import type { PlainOption } from './options';
import { oneOf, readNote, readStrings, readWhole } from './questionParts';
import { readEngaged } from './readEngaged';
import { MELODY_WISHES, type StepWishes } from '$lib/arrange/wishes';

type Writable<T> = { -readonly [key in keyof T]: T[key] };

/** Switches that have no value. */
const SWITCHES = {
  down: 'octaveDown',
  slant: 'slants',
  'any-fret': 'anyFret',
  'any-tone': 'anyTones',
  'any-control': 'anyControl',
} as const satisfies Record<string, keyof StepWishes>;

/** Wishes with a value, and what reads it. */
const READERS = {
  fret: FRET.read,
  top: readNote,
  hold: readHold,
  match: MATCH.read,
  melody: (text) => oneOf(MELODY_WISHES, text),
  // a single note within a piece is one string
  sizes: SIZES.read,
} as const satisfies {
  [part in keyof StepWishes]?: (text: string, setup: Setup) => StepWishes[part] | undefined;
};

/** One wish of one chord into its wishes; `false` where it cannot be read or the setup has it not. */
function readOne(setup: Setup, own: Writable<StepWishes>, text: string): boolean {
  const [, name = '', value = ''] = /^([a-z-]+)(?::(.*))?$/.exec(text) ?? [];
  if (Object.hasOwn(SWITCHES, name)) {
    own[SWITCHES[name as keyof typeof SWITCHES]] = true;
    return value === '';
  }
  if (!Object.hasOwn(READERS, name)) return false;
  const read = READERS[name as keyof typeof READERS](value, setup);
  Object.assign(own, { [name]: read });
  return read !== undefined;
}

/** `8/A,B/3-4-5`, or `3/-/3-4-5` with nothing engaged; then slant and neck where they are not 0 and 1. */
export function readHold(text: string, setup: Setup): Hold | undefined {
  const [fretText = '', controls = '', grip = '', slantText = '0', neckText = '1'] =
    text.split('/');
  const fret = readWhole(fretText, 0, setup.frets);
  const neck = readWhole(neckText, 1, setup.necks.length);
  if (fret === undefined || neck === undefined || !/^-?[0-2]$/.test(slantText)) return undefined;
  const engaged = readEngaged(setup, controls === '-' ? '' : controls);
  if (!engaged.ok || unreachable(setup, engaged.value) !== undefined) return undefined;
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  const strings = readStrings(grip.replaceAll('-', ','), count);
  return strings && { neck, fret, slant: Number(slantText), strings, engaged: engaged.value };
}

/** Reads all of them; `undefined` where one makes no sense. */
function readStepWishes(setup: Setup, text: string): ReadonlyMap<number, StepWishes> | undefined {
  const steps = new Map<number, Writable<StepWishes>>();
  for (const item of text.split(';').map((each) => each.trim())) {
    if (item === '') continue;
    const [, number, wish = ''] = /^(\d{1,4})\s*=\s*(.+)$/.exec(item) ?? [];
    if (number === undefined || number === '0') return undefined;
    const place = Number(number) - 1;
    const own = steps.get(place) ?? {};
    if (!readOne(setup, own, wish)) return undefined;
    steps.set(place, own);
  }
  return steps;
}

/** Locks as an option. */
export const LOCKS: PlainOption<ReadonlyMap<number, StepWishes>> = {
  read: (text, setup) => readStepWishes(setup, text),
  allowed: () =>
    'chord numbers with what is wished there, such as 2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5',
};

/** A voicing as `hold:` takes it. */
export function holdText({ neck, fret, slant, strings, engaged }: Hold): string {
  const base = `${fret}/${engagedCode(engaged) || '-'}/${strings.join('-')}`;
  if (neck !== 1) return `${base}/${slant}/${neck}`;
  return slant === 0 ? base : `${base}/${slant}`;
}

/** The same back into text, chord by chord. */
export function stepWishesText(steps: ReadonlyMap<number, StepWishes>): string {
  const items: string[] = [];
  for (const [place, own] of [...steps].sort((a, b) => a[0] - b[0])) {
    const add = (wish: string): void => void items.push(`${place + 1}=${wish}`);
    const { hold, fret, top, match, melody, sizes } = own;
    if (hold !== undefined) add(`hold:${holdText(hold)}`);
    if (fret !== undefined) add(`fret:${fret}`);
    if (top !== undefined)
      add(
        `top:${'midi' in top ? pitchText(pitchNamed(plainName(chromaOf(top.midi)), top.midi)) : nameText(plainName(top.chroma))}`,
      );
    if (match !== undefined) add(`match:${match}`);
    if (melody !== undefined) add(`melody:${melody}`);
    if (sizes !== undefined) add(`sizes:${sizes.join('-')}`);
    for (const [name, part] of Object.entries(SWITCHES)) if (own[part] === true) add(name);
  }
  return items.join(';');
}
