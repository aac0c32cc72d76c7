/** A `harmony` element of MusicXML 4.0 as a chord. */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { chordOf, type Chord } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { degreeParts } from '$lib/theory/degrees';
import { KIND_DEGREES } from '$lib/theory/kinds';
import { noteName, parseNoteName, type NoteName } from '$lib/theory/pitch';
import { childOf, numberOf, textOf, type XmlElement } from './xml';

/**
 * The stacks are "usually used as a basis for alteration" (MusicXML 4.0, kind-value): as programs
 * write them they mean the chord symbols of the same name, which do without their inner tones.
 */
const SYMBOLS: Readonly<Record<string, string>> = {
  'dominant-11th': '11',
  'dominant-13th': '13',
  'major-11th': 'maj11',
  'major-13th': 'maj13',
  'minor-11th': 'm11',
  'minor-13th': 'm13',
};

function degreesOfKind(kind: string): readonly string[] | undefined {
  if (kind === 'other') return ['1'];
  // its definition in the standard: augmented fourth, augmented sixth, augmented ninth
  if (kind === 'Tristan') return ['1', '#11', 'b7', '#9'];
  const symbol = SYMBOLS[kind];
  if (symbol !== undefined) return typeWithSuffix(symbol)?.degrees;
  return Object.hasOwn(KIND_DEGREES, kind) ? KIND_DEGREES[kind]?.split(' ') : undefined;
}

const degreeText = (number: number, alter: number): string =>
  `${alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)}${String(number)}`;

function nameIn(element: XmlElement | undefined, part: 'root' | 'bass'): NoteName | undefined {
  const within = childOf(element, part);
  const letter = parseNoteName(textOf(within, `${part}-step`) ?? '')?.letter;
  const alter = numberOf(within, `${part}-alter`) ?? 0;
  if (letter === undefined || !Number.isInteger(alter) || Math.abs(alter) > 2) return undefined;
  return noteName(letter, alter);
}

/** One `degree` element done to a chord's degrees; `undefined` where it makes no sense. */
function changed(degrees: readonly string[], element: XmlElement): string[] | undefined {
  const number = numberOf(element, 'degree-value');
  const alter = numberOf(element, 'degree-alter') ?? 0;
  const type = textOf(element, 'degree-type');
  if (number === undefined || number < 1 || number > 13) return undefined;
  const had = degrees.find((degree) => degreeParts(degree).number === number);
  if (type === 'subtract') return degrees.filter((degree) => degree !== had);
  // an added seventh counts from the minor one, an altered one from what the chord has
  const from =
    type === 'alter' && had !== undefined ? degreeParts(had).alter : number === 7 ? -1 : 0;
  const to = from + alter;
  if (!Number.isInteger(to) || to < -2 || to > 1) return undefined;
  const others = type === 'alter' ? degrees.filter((degree) => degree !== had) : degrees;
  return [...others, degreeText(number, to)];
}

/** The chord, or the fault of what is none. */
export function readHarmony(element: XmlElement): Chord | 'no chord' | Told {
  const kind = textOf(element, 'kind') ?? '';
  if (kind === 'none') return 'no chord';
  const root = nameIn(element, 'root');
  if (root === undefined) return told('harmony.withoutRoot');
  let degrees = degreesOfKind(kind);
  if (degrees === undefined) return told('harmony.unknownKind', kind);
  for (const child of element.children) {
    if (child.name !== 'degree') continue;
    degrees = changed(degrees, child);
    if (degrees === undefined)
      return told('harmony.impossibleDegree', textOf(child, 'degree-value') ?? '');
  }
  if (degrees.length < 2) return told('harmony.ofOneTone');
  return chordOf(root, degrees, nameIn(element, 'bass'));
}
