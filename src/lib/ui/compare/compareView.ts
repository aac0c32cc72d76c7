/** The words and numbers of a comparison, ready to be shown. */
import { spokenType, typeName } from '$lib/theory/display';
import type { TypeDifference } from '$lib/coverage/differences';
import { MEASURES, type Measure, type Measured } from '$lib/coverage/measures';
import type { Pocket, PocketChord } from '$lib/coverage/pockets';
import type { Repertoire } from '$lib/theory/repertoire';
import type { Side } from '$lib/coverage/compare';
import type { ListName } from '$lib/coverage/listNames';
import type { ChartMeasure } from './chartMeasures';
import type { CompareView } from './address';

export type Names = Readonly<Record<Side, string>>;

const MOST_LETTERS = 26;

/** Names short enough for a chart: what stands before the first comma, while that tells them apart. */
export function shortNames(a: string, b: string): Names {
  const short = (name: string): string => {
    const [start = ''] = name.split(/[,:;(]/);
    const text = start.trim() === '' ? name : start.trim();
    return text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS - 1).trimEnd()}…` : text;
  };
  const shorts = { a: short(a), b: short(b) };
  if (shorts.a !== shorts.b) return shorts;
  if (a !== b && Math.max(a.length, b.length) <= MOST_LETTERS) return { a, b };
  return { a: `${shorts.a} (first)`, b: `${shorts.b} (second)` };
}

/** Whole from ten up, else with as many decimals as tell something. */
export const numberText = (value: number | null, digits = 1): string =>
  value === null
    ? '–'
    : value.toLocaleString('en', {
        maximumFractionDigits: Math.abs(value) >= 100 ? 0 : digits,
        minimumFractionDigits: Math.abs(value) >= 100 ? 0 : digits,
      });

export interface ChartRow {
  readonly type: string;
  readonly label: string;
  readonly spoken: string;
  readonly a: ChartBar;
  readonly b: ChartBar;
  /** Who is stronger; `undefined` where they are level. */
  readonly stronger: Side | undefined;
  /** How much stronger: `67 %`, `0.35 less`, `alone`. */
  readonly lead: string;
}

export interface ChartBar {
  /** Length, 0 … 1 of the longest bar of the chart. */
  readonly share: number;
  readonly text: string;
}

function leadOf(
  measure: ChartMeasure,
  a: number | null,
  b: number | null,
): [Side | undefined, string] {
  const [one, other] = [a ?? 0, b ?? 0];
  if (measure.better === 'less') {
    if (a === null || b === null)
      return a === b ? [undefined, 'neither'] : [a === null ? 'b' : 'a', 'alone'];
    const less = Math.abs(one - other);
    return less < 0.005
      ? [undefined, 'level']
      : [one < other ? 'a' : 'b', `${less.toFixed(2)} less`];
  }
  if (one === other) return [undefined, one === 0 ? 'neither' : 'level'];
  const stronger = one > other ? 'a' : 'b';
  const [more, fewer] = [Math.max(one, other), Math.min(one, other)];
  if (fewer === 0) return [stronger, 'alone'];
  const times = more / fewer;
  if (times >= 1.995) return [stronger, `${times.toFixed(1)} ×`];
  const percent = Math.round(100 * (times - 1));
  return percent === 0 ? [undefined, 'level'] : [stronger, `+${percent} %`];
}

/** The rows of the chart; by difference in this very measure, or as the repertoire has them. */
export function chartRows(
  types: readonly TypeDifference[],
  repertoire: Repertoire,
  measure: ChartMeasure,
  order: CompareView['order'],
): ChartRow[] {
  const byUse = new Map(repertoire.map(({ type }, index) => [type, index]));
  const valued = types.map(({ type, a, b }) => ({
    type,
    a: measure.valueOf(a),
    b: measure.valueOf(b),
  }));
  const longest = Math.max(0, ...valued.flatMap(({ a, b }) => [a ?? 0, b ?? 0]));
  const apart = ({ a, b }: (typeof valued)[number]): number => {
    const [one, other] = [a ?? 0, b ?? 0];
    return one === other ? 0 : Math.abs(one - other) / Math.max(one, other);
  };
  const indexOf = (type: string): number => byUse.get(type) ?? types.length;
  valued.sort(
    (one, other) =>
      (order === 'difference' ? apart(other) - apart(one) : 0) ||
      indexOf(one.type) - indexOf(other.type),
  );
  const bar = (value: number | null): ChartBar => ({
    share: longest === 0 ? 0 : (value ?? 0) / longest,
    text: numberText(value, measure.better === 'less' ? 2 : 1),
  });
  return valued.map(({ type, a, b }) => {
    const [stronger, lead] = leadOf(measure, a, b);
    return {
      type,
      label: typeName(type),
      spoken: spokenType(type),
      a: bar(a),
      b: bar(b),
      stronger,
      lead,
    };
  });
}

/** One sentence that says who is stronger where. */
export function verdict(rows: readonly ChartRow[], measure: ChartMeasure, names: Names): string {
  const wins = (side: Side): ChartRow[] => rows.filter(({ stronger }) => stronger === side);
  const [a, b] = [wins('a'), wins('b')];
  const what = measure.better === 'less' ? 'asks less effort' : `has more ${measure.noun}`;
  if (a.length === 0 && b.length === 0) return 'They are level in every chord type.';
  const some = (side: Side, won: readonly ChartRow[]): string => {
    if (won.length === 0) return '';
    if (won.length === rows.length) return `${names[side]} ${what} in every chord type.`;
    if (won.length <= 4) return `${names[side]} ${what} in ${list(won.map(({ label }) => label))}.`;
    return `${names[side]} ${what} in ${won.length} of ${rows.length} chord types.`;
  };
  const sentences =
    a.length >= b.length ? [some('a', a), some('b', b)] : [some('b', b), some('a', a)];
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

/** What only one of them can sound, in one sentence. */
export function soundSentence(counts: Readonly<Record<ListName, number>>, names: Names): string {
  const { onlyA, onlyB } = counts;
  if (onlyA + onlyB === 0) return 'Whatever one of them can sound, the other can sound too.';
  const only = (count: number, name: string): string =>
    `${numberText(count, 0)} ${count === 1 ? 'sound is' : 'sounds are'} only on ${name}`;
  return onlyA > onlyB
    ? `${only(onlyA, names.a)}, ${numberText(onlyB, 0)} only on ${names.b}.`
    : `${only(onlyB, names.b)}, ${numberText(onlyA, 0)} only on ${names.a}.`;
}

const list = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;

export interface MeasureLine {
  readonly measure: Measure;
  readonly a: string;
  readonly b: string;
  /** Where the numbers stand on the line, 0 … 1; the line runs from nought to a little beyond both. */
  readonly at: Readonly<Record<Side, number | undefined>>;
  readonly stronger: Side | undefined;
  readonly difference: string;
}

const unitText = ({ unit }: Measure): string => (unit === '' ? '' : ` ${unit}`);

/** One line for each measure. */
export const measureLines = (a: Measured, b: Measured): MeasureLine[] =>
  MEASURES.map((measure) => {
    const [one, other] = [a[measure.id], b[measure.id]];
    const fixed = (value: number): string =>
      value.toLocaleString('en', {
        minimumFractionDigits: measure.digits,
        maximumFractionDigits: measure.digits,
      });
    const most = measure.unit === '%' ? 100 : 1.08 * Math.max(one ?? 0, other ?? 0, 1e-9);
    const text = (value: number | null): string =>
      value === null ? '–' : fixed(value) + unitText(measure);
    const apart = one === null || other === null ? undefined : fixed(Math.abs(one - other));
    const level = apart === undefined || Number(apart.replaceAll(',', '')) === 0;
    const ahead = (one ?? 0) > (other ?? 0) === (measure.better === 'more') ? 'a' : 'b';
    return {
      measure,
      a: text(one),
      b: text(other),
      at: {
        a: one === null ? undefined : one / most,
        b: other === null ? undefined : other / most,
      },
      stronger: level ? undefined : ahead,
      difference: level
        ? 'level'
        : `${apart}${unitText(measure)} ${measure.better === 'more' ? 'more' : 'less'}`,
    };
  });

export interface PocketSplit {
  readonly both: readonly PocketChord[];
  readonly a: readonly PocketChord[];
  readonly b: readonly PocketChord[];
}

/** What lies at a fret on both, and on one alone; a chord that is whole on one only is that one's. */
export function pocketSplit(a: Pocket | undefined, b: Pocket | undefined): PocketSplit {
  const [ofA, ofB] = [a?.chords ?? [], b?.chords ?? []];
  const asWhole =
    (others: readonly PocketChord[]) =>
    (chord: PocketChord): boolean =>
      others.some(
        ({ numeral, match }) =>
          numeral === chord.numeral && (match === 'complete' || chord.match === 'lean'),
      );
  return {
    both: ofA.filter(
      (chord) =>
        asWhole(ofB)(chord) &&
        ofB.some(({ numeral, match }) => numeral === chord.numeral && match === chord.match),
    ),
    a: ofA.filter((chord) => !asWhole(ofB)(chord)),
    b: ofB.filter((chord) => !asWhole(ofA)(chord)),
  };
}
