/**
 * A repertoire as a file and as a short text. The file is one JSON object:
 * `{ "format": 1, "name": "Sunday", "types": [{ "type": "m7", "weight": 3 }, …] }`. Types are written
 * in any of the usual spellings, `maj` or nothing for a major triad, each once. Nothing is repaired:
 * a file with a fault is refused whole, with every fault told.
 */
import * as v from 'valibot';
import { fault, guarded, jsonIn } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import {
  isOfUnknownKey,
  isRecord,
  pathOf,
  recordsIn,
  unknownKeys,
  type Parsed,
} from '$lib/setup/parsed';
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

/** The fault of a value at a path of the file that is missing, or is not what its place takes. */
function shapeFault(path: string, value: unknown): DocumentFault {
  const told = takenAt(path, value);
  return value === undefined ? fault('key.missing', path, told.allowed) : told;
}

function takenAt(path: string, value: unknown): DocumentFault {
  switch (path.slice(path.lastIndexOf('.') + 1)) {
    case 'format':
      return fault('value.format', path, value, REPERTOIRE_FORMAT);
    case 'name':
      return fault('value.text', path, value, ...NAME);
    case 'types':
      return fault('value.list', path, value, ...TYPES, 'chord types');
    case 'type':
      return fault('value.chordType', path, value);
    case 'weight':
      return fault('value.weight', path, value, ...WEIGHT);
    default:
      return fault('value.object', path, value, Object.keys(EntryShape.entries));
  }
}

/** A file larger than this is no repertoire; the largest possible one is far below. */
const MOST_CHARACTERS = 100_000;

/** The shape tells the first unknown key of an object; people want to know all of them. */
const unknownKeysIn = (document: Parsed): DocumentFault[] => [
  ...unknownKeys(document, Object.keys(RepertoireShape.entries), ''),
  ...recordsIn(document['types']).flatMap(([entry, index]) =>
    unknownKeys(entry, Object.keys(EntryShape.entries), `types[${index}]`),
  ),
];

/** Checks a parsed document and gives the repertoire in it, or every fault. */
export const readRepertoire = (document: unknown): Result<Repertoire, readonly DocumentFault[]> =>
  guarded(
    'a repertoire',
    (senseless) => [senseless],
    () => checked(document),
  );

function checked(document: unknown): Result<Repertoire, readonly DocumentFault[]> {
  if (!isRecord(document))
    return refuse([fault('value.object', '', document, ['format', 'types'])]);
  const faults = unknownKeysIn(document);
  const read = v.safeParse(RepertoireShape, document);
  if (!read.success) {
    for (const issue of read.issues)
      if (!isOfUnknownKey(issue)) faults.push(shapeFault(pathOf(issue), issue.input));
    return refuse(faults);
  }
  const types = new Set<string>();
  const repertoire = read.output.types.flatMap(({ type: text, weight }, index) => {
    const type = readType(text);
    if (type === undefined || types.has(type)) {
      const path = `types[${index}].type`;
      faults.push(
        type === undefined ? shapeFault(path, text) : fault('chordType.twice', path, text),
      );
      return [];
    }
    types.add(type);
    return [{ type, weight }];
  });
  return faults.length === 0 ? ok(repertoire) : refuse(faults);
}

/** The same from the text of a file. */
export function readRepertoireFile(text: string): Result<Repertoire, readonly DocumentFault[]> {
  if (text.length > MOST_CHARACTERS)
    return refuse([fault('text.tooLong', '', text.length, MOST_CHARACTERS)]);
  const document = jsonIn(text);
  if (!document.ok) return document;
  return readRepertoire(document.value);
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
export const readRepertoireText = (text: string): Result<Repertoire, readonly DocumentFault[]> =>
  readRepertoire({
    format: REPERTOIRE_FORMAT,
    types: text.split(',').map((entry) => {
      const at = entry.lastIndexOf(':');
      return { type: entry.slice(0, at), weight: Number(entry.slice(at + 1)) };
    }),
  });
