/** What the jobs that measure by songs share: what a change is to each of the songs. */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import {
  inOrderOfUse,
  songSums,
  type MissingChord,
  type SongBetween,
  type SongKind,
  type SongPlayed,
} from '$lib/coverage/songResults';
import { chordsIn, type Song } from '$lib/coverage/songs';
import { kindOfFile } from '$lib/formats/progressionFiles';
import type { Setup } from '$lib/setup/setup';
import { prettySymbol } from '$lib/theory/display';
import { readChord } from '$lib/theory/readChord';
import { signed } from '$lib/theory/signed';
import { wayJson } from './arrangementJson';
import { printWay } from './arrangementTable';
import { writeOut } from './files';
import { Refusal, countText, print, table } from './out';
import { isNamed, loadSongs, type SongOptions } from './songFiles';
import { SongThreads } from './songsPool';
import { terminal } from './terminal';

/** Says on the terminal how far it is; where nobody looks, nothing. */
function songProgress(many: number, what: string): (done: number) => void {
  if (!terminal().err.isTTY) return () => undefined;
  return (done) => {
    const line = `${done} of ${countText(many, what)} arranged`;
    terminal().err.write(`\r${line.padEnd(60)}${done === many ? `\r${' '.repeat(60)}\r` : ''}`);
  };
}

/** Songs on two setups: before and after a change of one, or on both. */
async function songsOn(
  a: Setup,
  b: Setup,
  songs: readonly Song[],
  how: 'change' | 'both',
): Promise<SongBetween[]> {
  const threads = new SongThreads(2 * chordsIn(songs));
  try {
    const tasks = songs.map((song) => ({ how, a, b, song }));
    return inOrderOfUse(await threads.answer(tasks, songProgress(songs.length, 'song')));
  } finally {
    await threads.end();
  }
}

/** The two sides as they are called. */
export type SideNames = readonly [string, string];
export const BEFORE_AFTER: SideNames = ['before', 'after'];
export const A_B: SideNames = ['A', 'B'];

const KIND_WORDS: Readonly<Record<SongKind, (sides: SideNames) => string>> = {
  opened: ([, after]) =>
    after === 'after' ? 'can be played now' : `can be played on ${after} alone`,
  closed: ([before]) =>
    before === 'before' ? 'cannot be played any more' : `can be played on ${before} alone`,
  easier: () => 'easier',
  harder: () => 'harder',
  same: () => 'as easy',
  neither: ([before]) => (before === 'before' ? 'cannot be played' : 'can be played on neither'),
};

const missingText = (missing: readonly MissingChord[]): string => {
  const shown = missing.slice(0, 3).map(({ measure, symbol }) => {
    const read = readChord(symbol);
    return `${read.ok && read.value !== 'no chord' ? prettySymbol(read.value.symbol) : symbol} in measure ${measure}`;
  });
  const more = missing.length - shown.length;
  return `no ${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
};

const effortOn = ({ missing, effort }: SongPlayed): string =>
  missing.length > 0 ? '–' : effort.toFixed(2);

const wanted = (song: SongBetween, name: string | undefined): boolean =>
  name !== undefined && (name === 'all' || isNamed(song.name, name));

/** The songs as JSON: those that can be played now first; the steps of those that are to be shown. */
export function songsJson(songs: readonly SongBetween[], sides: SideNames, shown?: string) {
  const [was, is] = sides;
  const { before, after, saved, counts } = songSums(songs);
  const side = ({ missing, effort, way }: SongPlayed, whole: boolean) => ({
    effort: missing.length > 0 ? null : effort,
    missing,
    ...(whole && way !== undefined ? { arrangement: wayJson(way) } : {}),
  });
  return {
    effort: { [was]: before, [is]: after },
    saved,
    counts,
    list: songs.map((song) => ({
      name: song.name,
      weight: song.weight,
      kind: song.kind,
      saved: song.saved ?? null,
      [was]: side(song.before, wanted(song, shown)),
      [is]: side(song.after, wanted(song, shown)),
    })),
  };
}

/** A song that is to be shown must be one of them. */
function checkShown(songs: readonly { readonly name: string }[], shown?: string): void {
  if (shown === undefined || shown === 'all') return;
  if (!songs.some(({ name }) => isNamed(name, shown)))
    throw new Refusal(
      `--song: found “${shown}”; the songs are ${songs.map(({ name }) => name).join(', ')}.`,
      1,
    );
}

/** Prints song by song what is saved or costs more, and the arrangements of those that are to be shown. */
export function printSongs(songs: readonly SongBetween[], sides: SideNames, shown?: string): void {
  const { before, after, saved, counts } = songSums(songs);
  const [was, is] = sides;
  const both = songs.length - counts.opened - counts.closed - counts.neither;
  const whole =
    both === 0
      ? 'none of them can be played on both'
      : `${both === songs.length ? '' : `the ${both} that can be played on both: `}effort ${before.toFixed(2)} ${was}, ${after.toFixed(2)} ${is}, ${savedText(saved)}`;
  print(`By ${countText(songs.length, 'song')}: ${whole}.\n`);
  print(
    table(
      [
        'song',
        was,
        is,
        'saved',
        '',
        ...(songs.some(({ weight }) => weight !== 1) ? ['weight'] : []),
      ],
      songs.map((song) => {
        const gone = [...(song.kind === 'closed' ? song.after : song.before).missing];
        return [
          song.name,
          effortOn(song.before),
          effortOn(song.after),
          song.saved === undefined ? '' : signed(song.saved, 2),
          KIND_WORDS[song.kind](sides) + (gone.length > 0 ? `: ${missingText(gone)}` : ''),
          ...(songs.some(({ weight }) => weight !== 1) ? [String(song.weight)] : []),
        ];
      }),
      [1, 2, 3],
    ),
  );
  for (const song of songs.filter((each) => wanted(each, shown)))
    for (const [side, { way }] of [
      [was, song.before],
      [is, song.after],
    ] as const)
      if (way !== undefined) printWay(`“${song.name}”, ${side}`, way);
  print('');
}

const savedText = (saved: number): string =>
  saved === 0
    ? 'nothing saved'
    : saved > 0
      ? `${saved.toFixed(2)} saved`
      : `${(-saved).toFixed(2)} more`;

/** Writes the arrangements of songs on two setups: each as tablature and as a MIDI file. */
async function writeSongs(
  folder: string,
  songs: readonly Song[],
  found: readonly SongBetween[],
  setups: readonly [Setup, Setup],
  sides: SideNames,
): Promise<string[]> {
  const there = resolve(terminal().folder, folder);
  try {
    mkdirSync(there, { recursive: true });
  } catch {
    throw new Refusal(`--songs-out: ${folder}: the folder cannot be made.`, 1);
  }
  const written: string[] = [];
  for (const song of songs) {
    const between = found.find(({ name }) => name === song.name);
    for (const [at, played] of [between?.before, between?.after].entries()) {
      if (played?.way === undefined) continue;
      for (const ending of ['txt', 'mid']) {
        const file = join(folder, `${song.name}-${sides[at] ?? ''}.${ending}`);
        const { progression, piece } = song;
        const bytes = await kindOfFile(file)?.write?.({
          ...{ setup: setups[at] as Setup, progression, way: played.way, paper: 'A4' },
          ...(piece === undefined ? {} : { piece }),
        });
        if (bytes === undefined) continue;
        await writeOut(file, bytes);
        written.push(file);
      }
    }
  }
  return written;
}

/** Songs on two setups, ready to be told. */
export interface MeasuredBySongs {
  readonly json: { readonly songs: ReturnType<typeof songsJson> };
  /** Prints them, unless a document is asked for. */
  readonly print: () => void;
}

/** Measures two setups by the songs that the options name; nothing where they name none. */
export async function measureBySongs(
  a: Setup,
  b: Setup,
  options: SongOptions & { readonly json?: boolean },
  how: 'change' | 'both',
  sides: SideNames,
): Promise<MeasuredBySongs | undefined> {
  const { songs: path, song: shown, songsOut, json } = options;
  for (const [option, given] of [
    ['--song', shown],
    ['--song-weights', options.songWeights],
    ['--songs-out', songsOut],
  ] as const)
    if (given !== undefined && path === undefined)
      throw new Refusal(`${option}: it goes with --songs, which says which songs there are.`, 2);
  if (path === undefined) return undefined;
  const songs = await loadSongs(options);
  checkShown(songs, shown);
  const found = await songsOn(a, b, songs, how);
  const written =
    songsOut === undefined ? [] : await writeSongs(songsOut, songs, found, [a, b], sides);
  return {
    json: { songs: songsJson(found, sides, shown) },
    print: () => {
      if (json === true) return;
      printSongs(found, sides, shown);
      if (written.length > 0)
        print(`${countText(written.length, 'file')} written to ${songsOut ?? ''}.\n`);
    },
  };
}
