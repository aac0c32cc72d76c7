/** How the picture of a change is drawn: in few steps that print apart in grey, with signs for what differs. */
import type { Cell, CellState } from '$lib/answers/change';
import type { ListName } from '$lib/coverage/changeKinds';

/** From much work to hardly any. */
export const SHADES = [1, 2, 3, 4] as const;
export type Shade = (typeof SHADES)[number];

/**
 * The least ease of the three darker steps. Ease is 1 / (1 + effort): half a pedal's work and less is the
 * darkest, one and a half and three follow; a chord with tones left out counts half, and is a step paler.
 */
const LEAST_EASE = [1 / 4, 1 / 2.5, 1 / 1.5] as const;

/** The step of what can be played there, after the change; of what is lost, before it. */
export function shadeOf({ before, after, state }: Cell): Shade {
  const ease = state === 'lost' ? before : after;
  return SHADES[LEAST_EASE.filter((least) => ease >= least).length] ?? 4;
}

export const STATE_SIGNS: Readonly<Record<CellState, string>> = {
  none: '',
  same: '',
  easier: '▴',
  new: '+',
  lost: '×',
  harder: '▾',
};

const STATE_WORDS: Readonly<Record<CellState, string>> = {
  none: 'cannot be played here',
  same: 'as before',
  easier: 'easier',
  new: 'new',
  lost: 'lost',
  harder: 'harder',
};

const EFFORT_WORDS: Readonly<Record<Shade, string>> = {
  1: 'much work',
  2: 'some work',
  3: 'little work',
  4: 'hardly any work',
};

/** `C major: easier, little work`. */
export const cellWords = (cell: Cell): string =>
  cell.state === 'none' || cell.state === 'lost'
    ? `${cell.spoken}: ${STATE_WORDS[cell.state]}`
    : `${cell.spoken}: ${STATE_WORDS[cell.state]}, ${EFFORT_WORDS[shadeOf(cell)]}`;

/** The list in which the rows of a square stand. */
export const listOf = (state: CellState): ListName =>
  state === 'none' || state === 'same' ? 'all' : state === 'new' ? 'gained' : state;

/** What stands over the picture: a proposal, a control that is asked about, or the setup as it is. */
export const pictureTitle = ({
  learn,
  changed,
}: {
  /** The control that is asked about. */
  readonly learn: string | undefined;
  readonly changed: boolean;
}): string =>
  learn !== undefined
    ? `Without ${learn} and with it`
    : changed
      ? 'Before and after'
      : 'What lies under the bar';
