/** A tuning plan as it is written: in the page's fields and, where it is not the usual one, in its address. */
import { refuse, ok, type Result } from '$lib/result';
import type { Chord } from '$lib/theory/chord';
import { chordsMeant, chordWords, type MeantChord } from '$lib/theory/chordWords';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { SEVENTHS } from '$lib/tuning/justRatios';
import type { Plan } from '$lib/tuning/tune';
import { methodNamed, type Method } from '$lib/tuning/methods';
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { oneOf } from '$lib/answers/questionParts';
import { given } from '$lib/ui/parts/given';

const PLAN_PARTS = [
  'method',
  'against',
  'chords',
  'neck',
  'anchor',
  'strength',
  'seventh',
] as const;
export type PlanPart = (typeof PLAN_PARTS)[number];
export type PlanTexts = { readonly [part in PlanPart]: string };

/** Nothing in an address means this. An empty anchor is the usual one. */
export const USUAL_PLAN: PlanTexts = {
  method: 'fitted',
  against: '',
  chords: '',
  neck: '1',
  anchor: '',
  strength: '0',
  seventh: '16/9',
};

export const METHOD_NAMES: Readonly<Record<Method, string>> = {
  equal: 'Equal temperament',
  just: 'Just on chosen chords',
  fitted: 'Fitted to chords',
  saved: 'Saved in the setup',
};

export function readPlan(parts: URLSearchParams): PlanTexts {
  const texts = { ...USUAL_PLAN };
  for (const part of PLAN_PARTS) texts[part] = given(parts, part) ?? USUAL_PLAN[part];
  for (const part of ['method', 'against'] as const)
    texts[part] = methodNamed(texts[part]) ?? texts[part];
  return texts;
}

const planQuery = (texts: PlanTexts): Record<string, string> =>
  Object.fromEntries(
    PLAN_PARTS.flatMap((part) => (texts[part] === USUAL_PLAN[part] ? [] : [[part, texts[part]]])),
  );

/** A place about a setup and a plan for it. */
export interface TuningAddress {
  readonly setup: string;
  readonly texts: PlanTexts;
}

export const readTuningAddress = (parts: URLSearchParams): TuningAddress => ({
  setup: given(parts, 'setup') ?? USUAL_SETUP,
  texts: readPlan(parts),
});

/** The text after the question mark, without it. */
export const tuningAddressText = ({ setup, texts }: TuningAddress): string =>
  new URLSearchParams({
    ...(setup === USUAL_SETUP ? {} : { setup }),
    ...planQuery(texts),
  }).toString();

/** Why a plan cannot be read, as a sentence, and texts of its chords that were likely meant. */
export interface PlanFault {
  readonly sentence: string;
  readonly meant: readonly MeantChord[];
}

/** Chord symbols with spaces or bars between them. */
function chordsOf(text: string): Result<readonly Chord[], PlanFault> {
  const chords: Chord[] = [];
  for (const symbol of chordWords(text)) {
    const read = readChord(symbol);
    if (!read.ok)
      return refuse({
        sentence: chordFaultText(read.error),
        meant: chordsMeant(text, read.error),
      });
    if (read.value !== 'no chord') chords.push(read.value);
  }
  return ok(chords);
}

/** The plan that texts mean, for the method or for the one it is set against. */
export function planOf(texts: PlanTexts, which: 'method' | 'against'): Result<Plan, PlanFault> {
  const chords = chordsOf(texts.chords);
  if (!chords.ok) return chords;
  const anchor = Number(texts.anchor);
  const strength = texts.strength === 'inf' ? Infinity : Number(texts.strength);
  return ok({
    method: methodNamed(texts[which]) ?? 'fitted',
    strength: strength >= 0 ? strength : 0,
    seventh: oneOf(SEVENTHS, texts.seventh) ?? '16/9',
    ...(chords.value.length === 0 ? {} : { chords: chords.value }),
    ...(anchor >= 1 && anchor <= 14 ? { anchor } : {}),
  });
}
