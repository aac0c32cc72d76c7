/** Questions about scales and ladders, as the terminal and addresses write them. */
import { readScale, type Scale } from '$lib/theory/scales';
import { parseKey, type Key } from '$lib/theory/spelling';
import { ok, refuse, type Result } from '$lib/result';
import { unreachable, type Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import {
  LADDER_INTERVALS,
  LADDER_WAYS,
  refusedLadder,
  type LadderInterval,
  type LadderQuestion,
  type LadderWay,
} from '$lib/scales/ladders';
import { POCKET_STRETCHES, type PocketStretch } from '$lib/scales/pockets';
import {
  FRET,
  KEY,
  NECK,
  ON_OR_OFF,
  fretsOption,
  stringsOption,
  wordOption,
} from './commonOptions';
import { readOptions, type OptionFault, type TellingOption, type TextsOf } from './options';
import { readEngaged } from './readEngaged';

/** A scale, or a chord or a degree of the key that stands for its own. */
const scaleOption = (key: Key | undefined): TellingOption<Scale> => ({
  needed: true,
  tell: (text) => {
    const read = readScale(text, key);
    if (read.ok) return read;
    const { found, allowed, meant } = read.error;
    const nearest = meant.length === 0 ? '' : `; near it are ${meant.join(', ')}`;
    return refuse({
      found: `“${found}”`,
      allowed: allowed + nearest,
      wrong: 'unreadable',
      ...(meant.length === 0 ? {} : { meant }),
    });
  },
});

const ENGAGED: TellingOption<Choice> = {
  tell: (text, setup) => {
    const read = readEngaged(setup, text);
    if (!read.ok) return read;
    const because = unreachable(setup, read.value);
    return because === undefined
      ? read
      : refuse({
          found: `“${text.trim()}”`,
          allowed: `what can be engaged at once; ${because}`,
          wrong: 'impossible',
        });
  },
};

const STRETCH = wordOption(POCKET_STRETCHES.map(String));

const shared = (key: Key | undefined) =>
  ({ scale: scaleOption(key), key: KEY, neck: NECK, frets: fretsOption('0-12') }) as const;

const scaleOptions = (key: Key | undefined) =>
  ({ ...shared(key), fret: FRET, controls: ENGAGED, pocket: STRETCH }) as const;
const ladderOptions = (key: Key | undefined) =>
  ({
    ...shared(key),
    interval: wordOption(LADDER_INTERVALS),
    way: wordOption(LADDER_WAYS),
    inversion: wordOption(['0', '1', '2']),
    slants: ON_OR_OFF,
  }) as const;

/** What is asked of a scale on a neck. */
export interface ScaleQuestion {
  readonly scale: Scale;
  /** From 1. */
  readonly neck: number;
  /** Where the bar may lie. */
  readonly frets: readonly [number, number];
  readonly engaged: Choice;
  /** Frets that a pocket goes up from its lowest; none where pockets are not asked for. */
  readonly pocket?: PocketStretch;
}

/** The same as texts. */
export type ScaleTexts = TextsOf<keyof ReturnType<typeof scaleOptions>>;

/** Reads a question about a scale; every fault is told. Without frets the strings are asked at the nut. */
export function readScaleQuestion(
  setup: Setup,
  texts: ScaleTexts,
): Result<ScaleQuestion, readonly OptionFault[]> {
  const { values, faults } = readOptions(scaleOptions(parseKey(texts.key ?? '')), setup, texts);
  const { fret, frets } = values;
  if (fret !== undefined && frets !== undefined)
    return refuse([
      ...faults,
      { path: 'fret', found: 'it beside --frets', allowed: 'one of them', wrong: 'unreadable' },
    ]);
  const { scale } = values;
  if (faults.length > 0 || scale === undefined) return refuse(faults);
  return ok({
    scale,
    neck: values.neck ?? 1,
    frets: frets ?? [fret ?? 0, fret ?? 0],
    engaged: values.controls ?? [],
    ...(values.pocket === undefined ? {} : { pocket: Number(values.pocket) as PocketStretch }),
  });
}

/** A ladder that is asked for, with its scale. */
export interface AskedLadder extends LadderQuestion {
  readonly scale: Scale;
}

/** The same as texts. */
export type LadderTexts = TextsOf<keyof ReturnType<typeof ladderOptions> | 'strings'>;

/** Reads a question about a ladder; every fault is told. */
export function readLadderQuestion(
  setup: Setup,
  texts: LadderTexts,
): Result<AskedLadder, readonly OptionFault[]> {
  const { values, faults } = readOptions(ladderOptions(parseKey(texts.key ?? '')), setup, texts);
  const neck = values.neck ?? 1;
  const onNeck = readOptions({ strings: stringsOption([neck]) }, setup, texts);
  const all: OptionFault[] = [...faults, ...onNeck.faults];
  const interval: LadderInterval = values.interval ?? 'sixths';
  const { strings } = onNeck.values;
  const least = interval === 'triads' ? 3 : 2;
  if (strings !== undefined && strings.length < least)
    all.push({
      path: 'strings',
      found: `“${(texts.strings ?? '').trim()}”`,
      allowed: `${least} strings or more for ${interval}`,
      wrong: 'impossible',
    });
  const { scale } = values;
  if (all.length > 0 || scale === undefined) return refuse(all);
  const refused = refusedLadder(scale, interval);
  if (refused !== undefined)
    return refuse([
      { path: 'scale', found: `“${scale.name}”`, allowed: refused, wrong: 'impossible' },
    ]);
  const way: LadderWay = values.way ?? 'up';
  return ok({
    scale,
    neck,
    frets: values.frets ?? [0, setup.frets],
    slants: values.slants ?? slantsByDefault(setup),
    interval,
    way,
    ...(strings === undefined ? {} : { strings }),
    ...(values.inversion === undefined ? {} : { inversion: Number(values.inversion) as 0 | 1 | 2 }),
  });
}
