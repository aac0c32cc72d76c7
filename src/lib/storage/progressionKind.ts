/** A progression as it is kept: what was typed, the setup it is for, and what is wished. */
import { readProgression } from '$lib/arrange/readText';
import { WISH_PARTS, type WishTexts } from '$lib/answers/readWishes';
import { ok, refuse, type Fault, type Result } from '$lib/result';
import type { Kind } from './kind';

export interface StoredProgression {
  /** The id of the setup, as addresses name it. */
  readonly setup: string;
  readonly text: string;
  readonly wishes: WishTexts;
}

export const PROGRESSION_FORMAT = 1;
const MOST_CHARACTERS = 200_000;
const MOST_WISH = 20_000;
const MOST_TITLE = 200;

const fault = (path: string, found: string, allowed: string): Fault => ({ path, found, allowed });

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function read(text: string): Result<StoredProgression, readonly Fault[]> {
  if (text.length > MOST_CHARACTERS)
    return refuse([
      fault('', `${text.length} characters`, `at most ${MOST_CHARACTERS} characters`),
    ]);
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return refuse([fault('', 'text that is not JSON', 'a progression')]);
  }
  if (!isRecord(document)) return refuse([fault('', 'something else', 'a progression')]);
  const { format, setup, chords, wishes = {} } = document;
  const faults: Fault[] = [];
  if (format !== PROGRESSION_FORMAT)
    faults.push(
      fault(
        'format',
        JSON.stringify(format) ?? 'nothing',
        `${PROGRESSION_FORMAT}; a higher number comes from a newer Gripwright`,
      ),
    );
  if (typeof setup !== 'string' || setup.length > 100)
    faults.push(fault('setup', 'something else', 'the id of a setup'));
  if (typeof chords !== 'string') faults.push(fault('chords', 'something else', 'a text'));
  const found: { -readonly [part in keyof WishTexts]: string } = {};
  if (!isRecord(wishes)) faults.push(fault('wishes', 'something else', 'wishes by their parts'));
  else
    for (const part of WISH_PARTS) {
      const wish = Object.hasOwn(wishes, part) ? wishes[part] : undefined;
      if (wish === undefined) continue;
      if (typeof wish === 'string' && wish.length <= MOST_WISH) found[part] = wish;
      else faults.push(fault(`wishes.${part}`, 'something else', 'a text'));
    }
  if (faults.length > 0) return refuse(faults);
  return ok({ setup: setup as string, text: chords as string, wishes: wished(found) });
}

/** In one order, without those that are empty: the same progression is the same text. */
const wished = (wishes: WishTexts): WishTexts =>
  Object.fromEntries(
    WISH_PARTS.flatMap((part) => {
      const text = wishes[part] ?? '';
      return text === '' ? [] : [[part, text]];
    }),
  );

const TITLE = /^[ \t]*title[ \t]*[:=].*$/imu;

/** A line of text, and no longer than a title may be. */
const asTitle = (name: string): string => name.replace(/\s+/gu, ' ').trim().slice(0, MOST_TITLE);

export const progressionKind: Kind<StoredProgression> = {
  kind: 'progression',
  read,
  write: ({ setup, text, wishes }) =>
    JSON.stringify({ format: PROGRESSION_FORMAT, setup, chords: text, wishes: wished(wishes) }),
  nameOf: ({ text }) => readProgression(text).progression.title ?? 'Without a title',
  named: (progression, name) => {
    const line = `title: ${asTitle(name)}`;
    const { text } = progression;
    return {
      ...progression,
      text: TITLE.test(text) ? text.replace(TITLE, () => line) : `${line}\n${text}`,
    };
  },
};
