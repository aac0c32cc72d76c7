/**
 * A repertoire as a file and as a short text. The file is one JSON object:
 * `{ "format": 1, "name": "Sunday", "types": [{ "type": "m7", "weight": 3 }, …] }`. Types are written
 * in any of the usual spellings, `maj` or nothing for a major triad, each once. Nothing is repaired:
 * a file with a fault is refused whole, with every fault told.
 */
import * as v from 'valibot';
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { found } from '$lib/setup/faultText';
import { pathOf } from '$lib/setup/readSetup';
import { readType, typeText, type Repertoire } from '$lib/theory/repertoire';

const REPERTOIRE_FORMAT = 1;

/** Bounds of the file's numbers, for the validator, the published schema and the sentences. */
const REPERTOIRE_BOUNDS = {
  types: [1, 60],
  /** Above the first. */
  weight: [0, 1_000_000_000],
  name: [1, 200],
  type: [0, 40],
} as const;

const { types: TYPES, weight: WEIGHT, name: NAME, type: TYPE } = REPERTOIRE_BOUNDS;

const EntryShape = v.strictObject({
  type: v.pipe(v.string(), v.maxLength(TYPE[1])),
  weight: v.pipe(v.number(), v.gtValue(WEIGHT[0]), v.maxValue(WEIGHT[1])),
});

/**
 * The form of the file, from which its published schema is made. That each type is a chord type, and
 * there once, is asked after it.
 */
export const RepertoireShape = v.strictObject({
  format: v.literal(REPERTOIRE_FORMAT),
  name: v.exactOptional(v.pipe(v.string(), v.minLength(NAME[0]), v.maxLength(NAME[1]))),
  types: v.pipe(v.array(EntryShape), v.minLength(TYPES[0]), v.maxLength(TYPES[1])),
});

const ALLOWED: Readonly<Record<string, string>> = {
  format: `${REPERTOIRE_FORMAT}, the number of this file format`,
  name: `text of ${NAME.join(' to ')} characters`,
  types: `a list of ${TYPES.join(' to ')} chord types`,
  type: 'a chord type such as m7, 6/9 or maj, each once',
  weight: `a number above ${WEIGHT[0]}, at most ${WEIGHT[1].toLocaleString('en')}`,
};

/** A file larger than this is no repertoire; the largest possible one is far below. */
const MOST_CHARACTERS = 100_000;

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The shape tells the first unknown key of an object; people want to know all of them. */
function unknownKeys(document: unknown): Fault[] {
  const unknown = (value: unknown, known: object, path: string): Fault[] => {
    const names = Object.keys(known);
    return Object.keys(isRecord(value) ? value : {})
      .filter((key) => !names.includes(key))
      .map((key) => ({
        path: path + key,
        found: `the key “${key}”`,
        allowed: `only the keys ${names.join(', ')}`,
      }));
  };
  const types = isRecord(document) && Array.isArray(document['types']) ? document['types'] : [];
  return [
    ...unknown(document, RepertoireShape.entries, ''),
    ...types.flatMap((entry, place) => unknown(entry, EntryShape.entries, `types[${place}].`)),
  ];
}

/** Checks a parsed document and gives the repertoire in it, or every fault. */
export function readRepertoire(document: unknown): Result<Repertoire, readonly Fault[]> {
  if (!isRecord(document))
    return refuse([
      { path: '', found: found(document), allowed: 'an object with format and types' },
    ]);
  const faults = unknownKeys(document);
  const read = v.safeParse(RepertoireShape, document);
  if (!read.success) {
    for (const issue of read.issues) {
      if (issue.type === 'strict_object' && issue.expected === 'never') continue;
      const key = issue.path?.at(-1)?.key;
      const missing = issue.type === 'strict_object' && issue.received === 'undefined';
      faults.push({
        path: pathOf(issue),
        found: missing ? 'nothing' : found(issue.input),
        allowed: ALLOWED[typeof key === 'string' ? key : ''] ?? 'an object with type and weight',
      });
    }
    return refuse(faults);
  }
  const types = new Set<string>();
  const repertoire = read.output.types.flatMap(({ type: text, weight }, place) => {
    const type = readType(text);
    if (type === undefined || types.has(type)) {
      const twice = type === undefined ? '' : ' a second time';
      faults.push({
        path: `types[${place}].type`,
        found: found(text) + twice,
        allowed: ALLOWED['type'] ?? '',
      });
      return [];
    }
    types.add(type);
    return [{ type, weight }];
  });
  return faults.length === 0 ? ok(repertoire) : refuse(faults);
}

/** The same from the text of a file. */
export function readRepertoireFile(text: string): Result<Repertoire, readonly Fault[]> {
  const fault = (what: string, allowed: string) => refuse([{ path: '', found: what, allowed }]);
  if (text.length > MOST_CHARACTERS)
    return fault(`${text.length} characters`, `at most ${MOST_CHARACTERS} characters`);
  let document: unknown;
  try {
    document = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    return fault(`text that is not JSON (${detail})`, 'one JSON object');
  }
  return readRepertoire(document);
}

/** The text of a file, as `readRepertoireFile` takes it. */
export const repertoireFile = (repertoire: Repertoire): string =>
  `${JSON.stringify(
    {
      format: REPERTOIRE_FORMAT,
      types: repertoire.map(({ type, weight }) => ({ type: typeText(type), weight })),
    },
    null,
    2,
  )}\n`;

/** Short, for an address: `maj:60,m7:3`. */
export const repertoireText = (repertoire: Repertoire): string =>
  repertoire.map(({ type, weight }) => `${typeText(type)}:${weight}`).join(',');

/** The short text read again, by the rules of the file. */
export const readRepertoireText = (text: string): Result<Repertoire, readonly Fault[]> =>
  readRepertoire({
    format: REPERTOIRE_FORMAT,
    types: text.split(',').map((entry) => {
      const at = entry.lastIndexOf(':');
      return { type: entry.slice(0, at), weight: Number(entry.slice(at + 1)) };
    }),
  });
