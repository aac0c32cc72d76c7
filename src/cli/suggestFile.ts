/** Reading back what `gripwright suggest --json` printed. */
import * as v from 'valibot';
import type { Suggestions } from '$lib/coverage/suggestion';
import { Refusal } from './out';

const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
const engaged = v.object({ id: v.string(), state: v.picklist(['half', 'full']) });
const chord = v.object({ symbol: v.string(), type: v.string(), root: whole });
// results of earlier versions have neither score nor examples: they were put in order by their gain
export const example = v.object({
  neck: whole,
  held: v.array(engaged),
  pressed: engaged,
  from: v.optional(chord),
  to: chord,
  strings: v.array(whole),
  fromPitches: v.array(whole),
  toPitches: v.array(whole),
  tonic: whole,
});
const ResultShape = v.object({
  question: v.pipe(v.string(), v.regex(/^[0-9a-f]{16}$/)),
  limit: whole,
  candidates: whole,
  ranges: v.array(
    v.pipe(
      v.tuple([whole, whole]),
      v.check(([first, last]) => first <= last),
    ),
  ),
  done: whole,
  best: v.array(
    v.object({
      candidate: whole,
      pulls: v.array(v.object({ neck: whole, string: whole, semitones: v.number() })),
      gain: v.number(),
      score: v.optional(v.number()),
      examples: v.optional(v.array(example), []),
      byType: v.array(v.object({ type: v.string(), gain: v.number() })),
      opens: v.array(v.object({ type: v.string(), root: whole })),
    }),
  ),
});

/** The results in a file’s text; anything else is refused, with the place where it goes wrong. */
export function readSuggestions(file: string, text: string): Suggestions {
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    throw new Refusal(`${file} is not JSON; wanted is what gripwright suggest --json printed.`, 1);
  }
  const read = v.safeParse(ResultShape, document, { abortEarly: true });
  if (read.success)
    return {
      ...read.output,
      best: read.output.best.map(({ candidate, pulls, gain, score = gain, ...rest }) => ({
        ...{ candidate, pulls, gain, score },
        ...rest,
      })),
    };
  const where = v.getDotPath(read.issues[0]);
  throw new Refusal(
    `${file} is not what gripwright suggest --json printed${where === null ? '' : `; the trouble begins at ${where}`}.`,
    1,
  );
}
