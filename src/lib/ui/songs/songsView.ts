/** What the page says of songs on two setups, in words. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import type { SavedForSongs } from '$lib/answers/songs';
import type { MissingChord, SongBetween, SongKind, SongSums } from '$lib/coverage/songResults';
import { engagedText } from '$lib/setup/engagedText';
import { fretText } from '$lib/answers/voicingText';
import { prettySymbol } from '$lib/theory/display';
import { readChord } from '$lib/theory/readChord';

/** The two setups as they are called: before and after, or by their names. */
export interface SideNames {
  readonly a: string;
  readonly b: string;
  /** The second is the first one changed. */
  readonly changed: boolean;
}

/** An effort as it is read: two decimals, as everywhere. */
export const effortText = (effort: number): string => effort.toFixed(2);

const MARKS: Readonly<Record<SongKind, string>> = {
  ...{ opened: '▴', easier: '▴', closed: '▾', harder: '▾' },
  ...{ same: '=', neither: '–' },
};

const pretty = (symbol: string): string => {
  const read = readChord(symbol);
  return read.ok && read.value !== 'no chord' ? prettySymbol(read.value.symbol) : symbol;
};

/** `no C+ in measure 2 and 3 more` */
export function missingText(missing: readonly MissingChord[]): string {
  const [first] = missing;
  if (first === undefined) return '';
  const more = missing.length === 1 ? '' : ` and ${missing.length - 1} more`;
  return `no ${pretty(first.symbol)} in measure ${first.measure}${more}`;
}

/** What a song has of it: a mark and words, `▴ 1.25 saved`. */
export function verdictOf({ kind, saved = 0 }: SongBetween, { a, b, changed }: SideNames) {
  const words: Readonly<Record<SongKind, string>> = {
    opened: changed ? 'can be played now' : `on ${b} alone`,
    closed: changed ? 'cannot be played any more' : `on ${a} alone`,
    easier: `${effortText(saved)} saved${changed ? '' : ` on ${b}`}`,
    harder: `${effortText(-saved)} more${changed ? '' : ` on ${b}`}`,
    same: 'as easy',
    neither: changed ? 'cannot be played' : 'on neither',
  };
  return { mark: MARKS[kind], words: words[kind] };
}

/** Songs that are told by name of those that a change makes easier or harder. */
const TOLD_BY_NAME = 3;

/** What a change does for songs, in lines: those that can be played now first. */
export function savedLines({ saved, songs }: SavedForSongs): string[] {
  const named = (kind: SongKind, words: string): string[] =>
    songs.filter((song) => song.kind === kind).map(({ name }) => `${MARKS[kind]} ${name} ${words}`);
  const changed = songs
    .filter((song) => song.saved !== null && song.saved !== 0)
    .sort((a, b) => Math.abs(b.saved ?? 0) - Math.abs(a.saved ?? 0));
  const told = changed
    .slice(0, TOLD_BY_NAME)
    .map(
      ({ kind, name, saved: own }) =>
        `${MARKS[kind]} ${name} ${effortText(Math.abs(own ?? 0))} ${kind === 'easier' ? 'saved' : 'more'}`,
    );
  const more = changed.length - told.length;
  return [
    ...named('opened', 'can be played now'),
    ...named('closed', 'cannot be played any more'),
    ...(told.length === 0
      ? []
      : [
          `${saved < 0 ? `${effortText(-saved)} more` : `${effortText(saved)} saved`} in all: ${told.join(', ')}${more === 0 ? '' : `, and ${more} more`}`,
        ]),
    ...(songs.every(({ kind }) => kind === 'same' || kind === 'neither')
      ? ['nothing changes in these songs']
      : []),
  ];
}

/** All songs in a sentence. */
export function sumSentence({ before, after, saved, counts }: SongSums, names: SideNames): string {
  const both = counts.easier + counts.harder + counts.same;
  const opened =
    counts.opened === 0
      ? ''
      : `${counts.opened} ${counts.opened === 1 ? 'song' : 'songs'} ${names.changed ? 'can be played now' : `can be played on ${names.b} alone`}. `;
  const closed =
    counts.closed === 0
      ? ''
      : `${counts.closed} ${names.changed ? 'cannot be played any more' : `can be played on ${names.a} alone`}. `;
  if (both === 0) return `${opened}${closed}None can be played on both.`;
  const side = names.changed ? '' : ` on ${saved > 0 ? names.b : names.a}`;
  const change =
    saved === 0
      ? 'nothing saved'
      : saved > 0 || !names.changed
        ? `${effortText(Math.abs(saved))} saved${side}`
        : `${effortText(-saved)} more`;
  return `${opened}${closed}Effort of ${both === 1 ? 'the one song' : `the ${both} songs`} that can be played on both: ${effortText(before)} → ${effortText(after)}, ${change}.`;
}

/** One chord of an arrangement in a line: measure, chord, and what is held. */
export const stepLine = ({ step, chord, voicing, way, stays }: ArrangedStep) => ({
  measure: step.bar + 1,
  chord: prettySymbol(chord.symbol),
  held: `${fretText(voicing)} ${engagedText([...way, ...stays]) || '–'}`,
  strings: voicing.strings.join('-'),
});
