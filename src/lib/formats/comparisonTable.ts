/** A comparison of two setups as a table for a spreadsheet: one line a chord type, then the measures. */
import type { TypeDifference } from '$lib/coverage/differences';
import { MEASURES, type Measured } from '$lib/coverage/measures';
import { typeText } from '$lib/theory/repertoire';
import type { TypeCoverage } from '$lib/coverage/types';
import type { Cell } from './csv';

interface Column {
  readonly name: string;
  readonly valueOf: (type: TypeCoverage) => number | null;
}

const rounded = (value: number | null): number | null =>
  value === null ? null : Math.round(value * 1000) / 1000;

/** Different voicings along the whole neck; the other counts are of one chord, the mean of its roots. */
const COLUMNS: readonly Column[] = [
  { name: 'voicings', valueOf: ({ voicings }) => voicings },
  { name: 'positions', valueOf: ({ places }) => places / 12 },
  { name: 'bass notes', valueOf: ({ basses }) => basses / 12 },
  { name: 'melody notes', valueOf: ({ melody }) => melody / 12 },
  { name: 'least effort', valueOf: ({ effort }) => effort.least },
  { name: 'median effort', valueOf: ({ effort }) => effort.median },
];

/** Rows for a sheet of figures: a heading, then a row a chord type with every measure of both setups. */
export function comparisonTable(
  names: { readonly a: string; readonly b: string },
  types: readonly TypeDifference[],
  measures: { readonly a: Measured; readonly b: Measured },
): Cell[][] {
  return [
    [
      'chord type',
      ...COLUMNS.flatMap(({ name }) => [`${name}, ${names.a}`, `${name}, ${names.b}`]),
    ],
    ...types.map(({ type, a, b }) => [
      typeText(type),
      ...COLUMNS.flatMap(({ valueOf }) => [rounded(valueOf(a)), rounded(valueOf(b))]),
    ]),
    [],
    ['measure', names.a, names.b, 'unit', 'better'],
    ...MEASURES.map(({ id, name, unit, better }): Cell[] => [
      name,
      rounded(measures.a[id]),
      rounded(measures.b[id]),
      unit,
      better,
    ]),
  ];
}
