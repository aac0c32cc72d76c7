/**
 * Compare's state as the part of an address after the question mark. What stands at its usual value
 * is left out; unknown or broken parts are passed over, so that an old bookmark still opens.
 */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { oneOf } from '$lib/answers/questionParts';
import { LISTS, type ListName } from '$lib/coverage/listNames';
import { readType, typeText } from '$lib/theory/repertoire';
import { readableText, setTexts, textsIn, wholeIn } from '$lib/ui/parts/addressParts';
import { given } from '$lib/ui/parts/given';
import { CHART_MEASURES, type ChartMeasureId } from './chartMeasures';

/** What is asked, as it is written in fields and addresses; an empty text is the usual. */
const ASKED = ['repertoire', 'key', 'pocket', 'effort'] as const;
export type AskedPart = (typeof ASKED)[number];
export type AskedTexts = { readonly [part in AskedPart]?: string };

export interface CompareView {
  readonly measure: ChartMeasureId;
  readonly order: 'difference' | 'use';
  readonly list: ListName;
  /** The type that the lists are about; all where left out. */
  readonly type?: string;
  readonly fret: number;
}

export interface CompareAddress {
  readonly a: string;
  readonly b: string;
  readonly asked: AskedTexts;
  readonly view: CompareView;
}

export const USUAL_VIEW: CompareView = {
  measure: 'voicings',
  order: 'difference',
  list: 'onlyB',
  fret: 0,
};

/** Two instruments that many players choose between; whatever is there already is not its own rival. */
const USUAL = [USUAL_SETUP, 'universal12'] as const;
const rivalOf = (a: string): string => (a === USUAL[1] ? USUAL[0] : USUAL[1]);

export function readCompareAddress(parts: URLSearchParams): CompareAddress {
  const a = given(parts, 'setup') ?? USUAL[0];
  const typed = given(parts, 'type');
  const type = typed === undefined ? undefined : readType(typed);
  return {
    a,
    b: given(parts, 'with') ?? rivalOf(a),
    asked: textsIn(parts, ASKED),
    view: {
      measure:
        oneOf(
          CHART_MEASURES.map(({ id }) => id),
          parts.get('by'),
        ) ?? USUAL_VIEW.measure,
      order: oneOf(['difference', 'use'], parts.get('order')) ?? USUAL_VIEW.order,
      list: oneOf(LISTS, parts.get('list')) ?? USUAL_VIEW.list,
      ...(type === undefined ? {} : { type }),
      fret: wholeIn(parts, 'fret', USUAL_VIEW.fret, [0, 36]),
    },
  };
}

/** The text after the question mark, without it; empty at the usual state. */
export function compareAddressText({ a, b, asked, view }: CompareAddress): string {
  const parts = new URLSearchParams();
  if (a !== USUAL[0]) parts.set('setup', a);
  if (b !== rivalOf(a)) parts.set('with', b);
  setTexts(parts, ASKED, asked);
  if (view.measure !== USUAL_VIEW.measure) parts.set('by', view.measure);
  if (view.order !== USUAL_VIEW.order) parts.set('order', view.order);
  if (view.list !== USUAL_VIEW.list) parts.set('list', view.list);
  if (view.type !== undefined) parts.set('type', typeText(view.type));
  if (view.fret !== USUAL_VIEW.fret) parts.set('fret', String(view.fret));
  return readableText(parts, ',:/');
}
