/** A tuning plan as it is written: in the page's fields and, where it is not the usual one, in its address. */
import { refuse, ok, type Result } from '$lib/result';
import type { Chord } from '$lib/theory/chord';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { SEVENTHS } from '$lib/tuning/justRatios';
import { METHODS, type Method, type Plan } from '$lib/tuning/tune';
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
  method: 'sweet',
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
  sweet: 'Sweetened',
  saved: 'As the setup says',
};

export function readPlan(parts: URLSearchParams): PlanTexts {
  const texts = { ...USUAL_PLAN };
  for (const part of PLAN_PARTS) texts[part] = given(parts, part) ?? USUAL_PLAN[part];
  return texts;
}

export const planQuery = (texts: PlanTexts): Record<string, string> =>
  Object.fromEntries(
    PLAN_PARTS.flatMap((part) => (texts[part] === USUAL_PLAN[part] ? [] : [[part, texts[part]]])),
  );

/** Chord symbols with spaces or bars between them. */
function chordsOf(text: string): Result<readonly Chord[], string> {
  const chords: Chord[] = [];
  for (const symbol of text.split(/[\s|]+/)) {
    if (symbol === '') continue;
    const read = readChord(symbol);
    if (!read.ok) return refuse(chordFaultText(read.error));
    if (read.value !== 'no chord') chords.push(read.value);
  }
  return ok(chords);
}

/** The plan that texts mean, for the method or for the one it is set against. */
export function planOf(texts: PlanTexts, which: 'method' | 'against'): Result<Plan, string> {
  const chords = chordsOf(texts.chords);
  if (!chords.ok) return chords;
  const anchor = Number(texts.anchor);
  const strength = texts.strength === 'inf' ? Infinity : Number(texts.strength);
  return ok({
    method: oneOf(METHODS, texts[which]) ?? 'sweet',
    strength: strength >= 0 ? strength : 0,
    seventh: oneOf(SEVENTHS, texts.seventh) ?? '16/9',
    ...(chords.value.length === 0 ? {} : { chords: chords.value }),
    ...(anchor >= 1 && anchor <= 14 ? { anchor } : {}),
  });
}
