/**
 * Wishes as they are written: short texts from the command line's options and the page's address alike.
 * What contradicts itself is told here, before anything is searched.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { MATCHES } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import { ANY, RANGE, WHOLE, listOf, readRange, readStrings, readWhole } from './questionParts';
import { SIZES } from './question';
import { EVEN_WAY, WAY_PARTS, type WayBalance } from '$lib/effort/weights';
import { LOCKS_ALLOWED, readStepWishes } from './stepWishes';
import { MELODY_WISHES, noWishes, type Wishes } from '$lib/arrange/wishes';

export const WISH_PARTS = [
  'top',
  'match',
  'frets',
  'home',
  'sizes',
  'neck',
  'prefer',
  'avoid',
  'without',
  'must',
  'pocket',
  'end',
  'slants',
  'balance',
  'locks',
] as const;
export type WishPart = (typeof WISH_PARTS)[number];
export type WishTexts = { readonly [part in WishPart]?: string | undefined };

export interface WishFault extends Fault {
  readonly path: WishPart;
  /** The text makes no sense, or it does and this setup, or another wish, does not allow it. */
  readonly wrong: 'unreadable' | 'impossible';
}

/** Widest pocket that can be asked for. */
export const MOST_POCKET = 12;
const BALANCE =
  /^\s*(?:feet|picking|bar|voices)=\d+(?:\.\d+)?(?:\s*,\s*(?:feet|picking|bar|voices)=\d+(?:\.\d+)?)*\s*$/;

/** `bar=2,voices=0.5`: parts that are left out stay at 1. */
export function readWayBalance(text: string): WayBalance | undefined {
  const balance: { -readonly [part in keyof WayBalance]: number } = { ...EVEN_WAY };
  for (const item of listOf(text)) {
    const [name, value] = item.split('=');
    const part = WAY_PARTS.find((each) => each === name?.trim());
    const factor = Number(value);
    if (part === undefined || !(factor >= 0 && factor <= 10)) return undefined;
    balance[part] = factor;
  }
  return balance;
}

/** Grips such as `3-4-5,6-8-10`. */
function readGrips(text: string, count: number): (readonly number[])[] | undefined {
  const grips = listOf(text).map((grip) => readStrings(grip.replaceAll('-', ','), count));
  return grips.every((grip) => grip !== undefined) ? grips : undefined;
}

const GRIPS = /^[\s\d,-]+$/;

/** Reads all wishes about a setup; every fault is told, each under its part. */
export function readWishes(setup: Setup, texts: WishTexts): Result<Wishes, readonly WishFault[]> {
  const faults: WishFault[] = [];
  const told = (path: WishPart, found: string, allowed: string, wrong: WishFault['wrong']): void =>
    void faults.push({ path, found, allowed, wrong });
  const read = <T>(
    part: WishPart,
    form: RegExp,
    reader: (text: string) => T | undefined,
    allowed: string,
  ): T | undefined => {
    const text = texts[part]?.trim();
    if (text === undefined || text === '') return undefined;
    const value = form.test(text) ? reader(text) : undefined;
    if (value === undefined)
      told(
        part,
        `“${text}”`,
        allowed,
        form !== ANY && form.test(text) ? 'impossible' : 'unreadable',
      );
    return value;
  };
  const oneOf =
    <T extends string>(words: readonly T[]) =>
    (text: string): T | undefined =>
      words.find((each) => each === text);

  const strings = Math.max(...setup.necks.map((neck) => neck.strings.length));
  const ids = setup.controls.map(({ id }) => id);
  const none = noWishes(slantsByDefault(setup));

  const melody = read('top', ANY, oneOf(MELODY_WISHES), 'exact, octave (any octave) or off');
  const match = read('match', ANY, oneOf(MATCHES), MATCHES.join(', '));
  const frets = read(
    'frets',
    RANGE,
    (text) => readRange(text, [0, setup.frets]),
    `a fret or a range such as 3-8, within 0-${setup.frets}`,
  );
  const home = read(
    'home',
    WHOLE,
    (text) => readWhole(text, 0, setup.frets),
    `a fret, 0 to ${setup.frets}`,
  );
  const sizes = read(
    'sizes',
    RANGE,
    (text) => readRange(text, SIZES),
    `a number of strings or a range such as 3-4, within ${SIZES.join('-')}`,
  );
  const neck = read(
    'neck',
    WHOLE,
    (text) => readWhole(text, 1, setup.necks.length),
    setup.necks.length === 1 ? '1, the only neck' : `a neck, 1 to ${setup.necks.length}`,
  );
  const gripsAllowed = `grips such as 3-4-5,6-8-10, of strings 1 to ${strings}`;
  const prefer = read('prefer', GRIPS, (text) => readGrips(text, strings), gripsAllowed);
  const avoid = read('avoid', GRIPS, (text) => readGrips(text, strings), gripsAllowed);
  const without = read(
    'without',
    /./,
    (text) => (listOf(text).every((id) => ids.includes(id)) ? listOf(text) : undefined),
    ids.length === 0 ? 'nothing: this setup has no controls' : `ids of controls: ${ids.join(', ')}`,
  );
  const must = read(
    'must',
    /^[\s\d,]+$/,
    (text) => {
      const numbers = listOf(text).map((item) => readWhole(item, 1, 13));
      return numbers.every((number) => number !== undefined) ? numbers : undefined;
    },
    'degrees such as 1,5 (1 to 13)',
  );
  const pocket = read(
    'pocket',
    WHOLE,
    (text) => readWhole(text, 0, MOST_POCKET),
    `a number of frets, 0 to ${MOST_POCKET}`,
  );
  const end = read(
    'end',
    ANY,
    oneOf(['free', 'same']),
    'free, or same (the bar ends where it began)',
  );
  const slants = read('slants', ANY, oneOf(['on', 'off']), 'on or off');
  const balance = read(
    'balance',
    BALANCE,
    readWayBalance,
    `parts and factors from 0 to 10, such as feet=2,bar=0.5 (${WAY_PARTS.join(', ')})`,
  );
  const steps = read('locks', ANY, (text) => readStepWishes(setup, text), LOCKS_ALLOWED);

  // wishes that no voicing could satisfy together
  const gripText = (grip: readonly number[]): string => grip.join('-');
  const [fewest, most] = sizes ?? none.sizes;
  for (const grip of prefer ?? []) {
    if (avoid?.some((other) => gripText(other) === gripText(grip)))
      told(
        'prefer',
        `${gripText(grip)}, which avoid names too`,
        'a grip in one of the two',
        'impossible',
      );
    if (grip.length < fewest || grip.length > most)
      told(
        'prefer',
        `${gripText(grip)}, which has ${grip.length} strings`,
        `grips of the asked sizes, ${fewest} to ${most} strings`,
        'impossible',
      );
  }
  for (const [place, own] of steps ?? []) {
    const fret = own.hold?.fret ?? own.fret;
    if (
      fret !== undefined &&
      frets !== undefined &&
      !own.anyFret &&
      (fret < frets[0] || fret > frets[1])
    )
      told(
        'locks',
        `chord ${place + 1} locked at fret ${fret}`,
        `a fret within the asked range, ${frets.join('-')}`,
        'impossible',
      );
    const used = own.hold?.engaged.find(({ id }) => without?.includes(id));
    if (used !== undefined && !own.anyControl)
      told(
        'locks',
        `chord ${place + 1} locked with ${used.id}`,
        `controls other than ${without?.join(', ') ?? ''}`,
        'impossible',
      );
    if (own.hold !== undefined && own.fret !== undefined && own.hold.fret !== own.fret)
      told(
        'locks',
        `chord ${place + 1} locked at frets ${own.hold.fret} and ${own.fret}`,
        'one fret',
        'impossible',
      );
  }
  const locked = [...(steps?.values() ?? [])].flatMap(({ hold, fret }) => hold?.fret ?? fret ?? []);
  if (pocket !== undefined && locked.length > 1) {
    const span = Math.max(...locked) - Math.min(...locked);
    if (span > pocket)
      told(
        'pocket',
        `${pocket}, while locks lie ${span} frets apart`,
        `a pocket of ${span} frets or more, or fewer locks`,
        'impossible',
      );
  }

  if (faults.length > 0) return refuse(faults);
  return ok({
    ...none,
    melody: melody ?? none.melody,
    ...(match === undefined ? {} : { match }),
    ...(frets === undefined ? {} : { frets }),
    ...(home === undefined ? {} : { home }),
    ...(neck === undefined ? {} : { necks: [neck] }),
    ...(pocket === undefined ? {} : { pocket }),
    sizes: sizes ?? none.sizes,
    prefer: prefer ?? [],
    avoid: avoid ?? [],
    without: without ?? [],
    must: must ?? [],
    endAsBegun: end === 'same',
    slants: slants === undefined ? none.slants : slants === 'on',
    balance: balance ?? EVEN_WAY,
    steps: steps ?? new Map(),
  });
}

export const wishFaultText = ({ path, found, allowed }: WishFault): string =>
  `${path}: found ${found}; allowed is ${allowed}.`;
