/** Reading back what `gripwright suggest --json` printed. */
import * as v from 'valibot';
import type { Suggestions } from '$lib/coverage/suggestion';
import { Refusal } from './out';

const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
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
  if (read.success) return read.output;
  const where = v.getDotPath(read.issues[0]);
  throw new Refusal(
    `${file} is not what gripwright suggest --json printed${where === null ? '' : `; the trouble begins at ${where}`}.`,
    1,
  );
}
