/**
 * Tablature in the trade's plain form: a line a string, string 1 on top, fret numbers with the controls
 * beside them. This file says what stands where; `tabText` and `tabDrawing` write it.
 *
 * A string that two neighbouring chords share rings on from the one to the other, as the instrument
 * plays it: the bar slides along it, a control moves it while it sounds, or nothing happens to it.
 */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { engagedText } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import { pullIn, type Setup } from '$lib/setup/setup';

/** How a chord is played: a voicing with the one way that is taken. */
export interface TabVoicing {
  /** From 1. */
  readonly neck: number;
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** The fret at each of the strings. */
  readonly frets: readonly number[];
  readonly engaged: Choice;
  /** Frets beyond the bar where the strings are touched for a harmonic. */
  readonly touched?: number;
}

/** What stands at the beginning of a measure. */
export interface TabBefore {
  /** A repeated part begins. */
  readonly repeats?: true;
  /** An ending begins: `1.` */
  readonly ending?: string;
  /** `Segno`, `Coda`, `3/4`. */
  readonly signs?: string;
}

/** What stands at its end. */
export interface TabAfter {
  /** A repeated part ends. */
  readonly repeats?: true;
  readonly endsEnding?: true;
  /** `3 times`, `Fine`, `D.C. al Fine`. */
  readonly signs?: string;
}

export interface TabStep {
  /** In plain letters; empty or `N.C.` where there is no chord. */
  readonly chord: string;
  /** Nothing is to be said above it, not even that there is no chord. */
  readonly unnamed?: true;
  /** From 1; a bar line stands before the first step of every bar. */
  readonly bar: number;
  /** How its measure is numbered; empty for a pickup, `bar` where this is left out. */
  readonly number?: string;
  readonly beats: number;
  /** The name of the section that begins here. */
  readonly section?: string;
  /** At the first step of a measure. */
  readonly before?: TabBefore;
  /** At the last one. */
  readonly after?: TabAfter;
  /** How the right hand strikes it, where that begins: `rolled`. */
  readonly strike?: string;
  /** What is sung to it, a verse each. */
  readonly words?: readonly string[];
  /** What its touched strings sound, the farthest first: `E5 B4`. */
  readonly sounds?: string;
  /** Left out for a rest and for what cannot be played. */
  readonly voicing?: TabVoicing;
  /** Strings that ring on from the step before; all shared ones where this is left out. */
  readonly held?: readonly number[];
  /** Where it is known of each string how it is reached, also one that rings on from a step long before. */
  readonly reached?: ReadonlyMap<number, 'picked' | 'pull' | 'slide' | 'rings'>;
  /** Strings that are picked again on the step's last beat; none where this is left out. */
  readonly again?: readonly number[];
  /** By their numbers in the order of playing: what is heard when this is played, each time. */
  readonly heard?: readonly number[];
}

export interface TabPiece {
  readonly title: string;
  readonly setup: Setup;
  readonly steps: readonly TabStep[];
  /** Something that is to be said of the whole. */
  readonly remark?: string;
}

/** What happens to a string on the way to its number. */
export type TabLead =
  | 'picked'
  | 'picked again'
  | 'slides up'
  | 'slides down'
  | 'moved by a control'
  | 'rings on';

export interface TabCell {
  /** `8`, `8A`, `3A+LKL½`; touched at fret 15 `3<15>`. */
  readonly text: string;
  readonly lead: TabLead;
}

/** One step under one another: what is written above it and on each string. */
export interface TabColumn {
  readonly chord: string;
  readonly section: string;
  readonly neck: number;
  readonly bar: number;
  readonly number: string;
  readonly startsBar: boolean;
  readonly beats: number;
  readonly before: TabBefore;
  readonly after: TabAfter;
  readonly strike: string;
  /** What is sung to it, and what touched strings sound; a row each below the staff. */
  readonly words: readonly string[];
  readonly heard: readonly number[];
  /** By string, string 1 first. */
  readonly cells: readonly (TabCell | undefined)[];
}

/** The controls that move a string, in the order in which the setup lists them. */
const movers = (setup: Setup, { neck, engaged }: TabVoicing, string: number): Choice =>
  engaged.filter(({ id, state }) =>
    setup.controls.some(
      (control) =>
        control.id === id &&
        control.pulls.some(
          (pull) => pull.neck === neck && pull.string === string && pullIn(pull, state) !== 0,
        ),
    ),
  );

/** Of a slide the direction is the bar's, which is where what was played last left it, also over a bar line. */
function knownLead(
  how: 'picked' | 'pull' | 'slide' | 'rings',
  before: TabVoicing | undefined,
  now: TabVoicing,
  string: number,
): TabLead {
  if (how === 'picked') return 'picked';
  if (how === 'rings') return 'rings on';
  const to = now.frets[now.strings.indexOf(string)] ?? 0;
  const from = before?.frets[before.strings.indexOf(string)] ?? before?.frets[0] ?? to;
  if (how === 'pull' || from === to) return 'moved by a control';
  return to > from ? 'slides up' : 'slides down';
}

function leadOf(
  setup: Setup,
  {
    before,
    lastPlayed,
  }: { readonly before: TabVoicing | undefined; readonly lastPlayed: TabVoicing | undefined },
  now: TabVoicing,
  string: number,
  { held, reached }: Pick<TabStep, 'held' | 'reached'>,
): TabLead {
  const how = reached?.get(string);
  if (how !== undefined) return knownLead(how, lastPlayed, now, string);
  const was = before?.neck === now.neck ? before.strings.indexOf(string) : -1;
  if (before === undefined || was < 0 || held?.includes(string) === false) return 'picked';
  const from = before.frets[was] ?? 0;
  const to = now.frets[now.strings.indexOf(string)] ?? 0;
  if (from !== to) return to > from ? 'slides up' : 'slides down';
  const moveIn = ({ neck, engaged }: TabVoicing): number =>
    movesOf(setup, neck, engaged)[string - 1] ?? 0;
  return moveIn(before) === moveIn(now) ? 'rings on' : 'moved by a control';
}

/** A step in two columns, where strings are picked again on its last beat. */
function withLastBeat(column: TabColumn, again: readonly number[]): TabColumn[] {
  if (again.length === 0) return [column];
  const cells = column.cells.map((cell, index): TabCell | undefined =>
    cell !== undefined && again.includes(index + 1) ? { ...cell, lead: 'picked again' } : undefined,
  );
  const lastBeat = {
    ...column,
    ...{
      chord: '',
      section: '',
      startsBar: false,
      beats: 1,
      before: {},
      strike: '',
      words: [],
      heard: [],
      cells,
    },
  };
  return [{ ...column, beats: column.beats - 1, after: {} }, lastBeat];
}

/**
 * A piece column by column, one for each step, and one more where strings are picked again; a step that
 * cannot be played has empty cells.
 */
export function tabColumns({ setup, steps }: TabPiece): TabColumn[] {
  let neck = steps.find(({ voicing }) => voicing)?.voicing?.neck ?? 1;
  let last: TabVoicing | undefined;
  return steps.flatMap((step, index) => {
    const { voicing, chord, bar, beats, section = '', again = [] } = step;
    const before = steps[index - 1];
    const lastPlayed = last;
    last = voicing ?? last;
    neck = voicing?.neck ?? neck;
    const count = setup.necks[neck - 1]?.strings.length ?? 0;
    const column = {
      chord: step.unnamed === true ? '' : chord === '' ? 'N.C.' : prettySymbol(chord),
      section,
      neck,
      bar,
      number: step.number ?? String(bar),
      startsBar: before?.bar !== bar,
      beats,
      before: step.before ?? {},
      after: step.after ?? {},
      strike: step.strike ?? '',
      heard: step.heard ?? [],
      words: [...(step.words ?? []), ...(step.sounds === undefined ? [] : [step.sounds])],
      cells: Array.from({ length: count }, (_, index): TabCell | undefined => {
        const string = index + 1;
        const stop = voicing?.strings.indexOf(string) ?? -1;
        if (voicing === undefined || stop < 0) return undefined;
        const fret = voicing.frets[stop] ?? 0;
        const touched = voicing.touched === undefined ? '' : `<${fret + voicing.touched}>`;
        return {
          text: `${fret}${touched}${engagedText(movers(setup, voicing, string))}`,
          lead: leadOf(setup, { before: before?.voicing, lastPlayed }, voicing, string, step),
        };
      }),
    };
    return withLastBeat(column, again);
  });
}

/** How a harmonic is written, for the legend. */
export const TOUCHED = '< > touched at this fret; what it sounds stands below';
/** Whether any string of a piece is touched, so that the legend has to say so. */
export const isTouched = ({ steps }: TabPiece): boolean =>
  steps.some(({ sounds }) => sounds !== undefined);

/** `1 F♯`, string 1 first. */
export const stringLabels = (setup: Setup, neck: number): string[] =>
  (setup.necks[neck - 1]?.strings ?? []).map(
    ({ open }, index) => `${index + 1} ${prettyName(open)}`,
  );

/**
 * Columns in lines that are at most so wide. Lines end with a bar where they can, always where another
 * neck begins, and within a bar only where it alone is wider than a line.
 */
export function inLines(
  columns: readonly TabColumn[],
  widthOf: (column: TabColumn) => number,
  most: number,
): TabColumn[][] {
  const lines: TabColumn[][] = [];
  let line: TabColumn[] = [];
  let width = 0;
  const turn = (): void => {
    if (line.length > 0) lines.push(line);
    line = [];
    width = 0;
  };
  const put = (column: TabColumn): void => {
    if (line.at(-1) !== undefined && line.at(-1)?.neck !== column.neck) turn();
    if (width + widthOf(column) > most) turn();
    line.push(column);
    width += widthOf(column);
  };
  for (const bar of inBars(columns)) {
    const whole = bar.reduce((sum, column) => sum + widthOf(column), 0);
    if (width + whole > most) turn();
    bar.forEach(put);
  }
  turn();
  return lines;
}

/** What stands above a column beside its chord: the signs of the measure that begins or ends there. */
export const signsAbove = ({ before, after, strike }: TabColumn): string =>
  [before.ending, before.signs, strike, after.signs]
    .filter((each) => each !== undefined && each !== '')
    .join(' ');

function inBars(columns: readonly TabColumn[]): TabColumn[][] {
  const bars: TabColumn[][] = [];
  for (const column of columns)
    if (column.startsBar) bars.push([column]);
    else bars.at(-1)?.push(column);
  return bars;
}
