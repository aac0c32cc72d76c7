/** The form of a piece in tablature: what stands at the beginning and at the end of a measure. */
import type { Jump, Measure } from '$lib/arrange/piece';
import type { Metre } from '$lib/arrange/progression';
import type { TabAfter, TabBefore } from './tablature';

/** What is said of a form with something written out. */
export const WRITTEN_OUT = 'What is repeated and played otherwise each time is written out.';

const JUMPS = { beginning: 'D.C.', segno: 'D.S.' } as const;
const UNTIL = { end: '', fine: ' al Fine', coda: ' al Coda' } as const;

/** `D.C. al Fine` */
export const jumpWords = ({ to, until }: Jump): string => `${JUMPS[to]}${UNTIL[until]}`;

/** Whether a measure is the first of an ending: it has one, and the measure before has another or closed its own. */
export const startsEnding = ({ endings }: Measure, before: Measure | undefined): boolean =>
  endings !== undefined &&
  (before?.times !== undefined || endings.join() !== before?.endings?.join());

/** What stands at a measure's beginning. */
export function beforeOf(
  measure: Measure,
  before: Measure | undefined,
  metre: Metre | undefined,
): TabBefore {
  const { repeats, endings, segno, coda } = measure;
  const signs = [
    ...(segno === true ? ['Segno'] : []),
    ...(coda === true ? ['Coda'] : []),
    ...(metre === undefined ? [] : [`${String(metre.beats)}/${String(metre.unit)}`]),
  ];
  return {
    ...(repeats === true ? { repeats } : {}),
    ...(startsEnding(measure, before) ? { ending: `${endings?.join(', ') ?? ''}.` } : {}),
    ...(signs.length === 0 ? {} : { signs: signs.join(' ') }),
  };
}

/** What stands at its end. */
export function afterOf(
  { times, toCoda, fine, jump, endings }: Measure,
  after: Measure | undefined,
): TabAfter {
  const signs = [
    ...(times !== undefined && times > 2 ? [`${String(times)} times`] : []),
    ...(toCoda === true ? ['To Coda'] : []),
    ...(fine === true ? ['Fine'] : []),
    ...(jump === undefined ? [] : [jumpWords(jump)]),
  ];
  const endsEnding =
    endings !== undefined && (after === undefined || endings.join() !== after.endings?.join());
  return {
    ...(times === undefined ? {} : { repeats: true as const }),
    ...(endsEnding ? { endsEnding: true as const } : {}),
    ...(signs.length === 0 ? {} : { signs: signs.join(', ') }),
  };
}
