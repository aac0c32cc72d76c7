/** The tablature that stands under a system of staves: what each step writes on its strings. */
import type { Piece } from '$lib/arrange/piece';
import type { TuneStep } from '$lib/arrange/tune';
import type { DrawnSystem } from './drawnStaff';
import { stringLabels, tabColumns, type TabCell } from './tablature';
import { tuneTabPlayed } from './tuneTab';
import type { Setup } from '$lib/setup/setup';

/** One step on its strings. */
export interface TabUnder {
  /** From 1. */
  readonly neck: number;
  /** Only strings on which something is written, from 1. */
  readonly cells: readonly { readonly string: number; readonly text: string }[];
  /** Characters of its widest text. */
  readonly widest: number;
}

const LEADS: Readonly<Record<TabCell['lead'], string>> = {
  picked: '',
  'picked again': '',
  'slides up': '/',
  'slides down': '\\',
  'moved by a control': '~',
  'rings on': '(',
};

/** By step: what is written under its note. */
export function tabsUnder(setup: Setup, piece: Piece, steps: readonly TuneStep[]): TabUnder[] {
  return tabColumns(tuneTabPlayed(setup, piece, steps))
    .filter(({ cells }) => cells.some((cell) => cell !== undefined))
    .map(({ neck, cells }): TabUnder => {
      const own = cells.flatMap((cell, at) =>
        cell === undefined
          ? []
          : [
              {
                string: at + 1,
                text: `${LEADS[cell.lead]}${cell.text}${cell.lead === 'rings on' ? ')' : ''}`,
              },
            ],
      );
      return { neck, cells: own, widest: Math.max(0, ...own.map(({ text }) => text.length)) };
    });
}

/** Where what stands on a string has to end: at what comes next on it, or at the bar line. */
export function endOn(
  string: number,
  from: number,
  drawn: Pick<DrawnSystem, 'bars' | 'notes'>,
  steps: readonly { readonly index: number }[],
  tabs: readonly TabUnder[],
): number {
  return Math.min(
    ...drawn.bars.map(({ x }) => x).filter((x) => x > from),
    ...steps
      .filter(({ index }) => tabs[index]?.cells.some((cell) => cell.string === string) === true)
      .flatMap(({ index }) => drawn.notes.get(index) ?? [])
      .filter((x) => x > from + 1),
  );
}

/** The names at the head of a system: `1 F♯`. */
export const labelsOf = (setup: Setup, neck: number): string[] => stringLabels(setup, neck);
