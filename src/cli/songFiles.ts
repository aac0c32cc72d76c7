/** Songs to measure by: the options that name them, and the files that they are read from. */
import { readdirSync, statSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import type { Command } from 'commander';
import { progressionFaultText, stepsOf } from '$lib/arrange/progression';
import type { Song } from '$lib/coverage/songs';
import { fileFaultText } from '$lib/faults';
import {
  endingsFor,
  isTuneFile,
  kindOfFile,
  readProgressionFile,
} from '$lib/formats/progressionFiles';
import { fileToRead } from './files';
import { Refusal, say } from './out';
import { terminal } from './terminal';

/** The options about songs, as they are written. */
export interface SongOptions {
  readonly songs?: string;
  readonly songWeights?: string;
  readonly song?: string;
  readonly songsOut?: string;
}

/** Adds the options that say which songs are the measure. */
export const withSongs = (command: Command): Command =>
  command
    .option(
      '--songs <folder or file>',
      `songs to measure by, each one file (${endingsFor('read')})`,
    )
    .option(
      '--song-weights <weights>',
      'how much songs count, such as "waltz=3,blues=0.5"; 1 where nothing is said',
    );

/** Adds these, and how the arrangements of the songs are seen and heard. */
export const withSongsShown = (command: Command): Command =>
  withSongs(command)
    .option(
      '--song <name>',
      'show the arrangements of this song too, before and after; all for every one',
    )
    .option(
      '--songs-out <folder>',
      'write the arrangements before and after there, as tablature and as MIDI files',
    );

/** Most songs that are measured by at once. */
const MOST_SONGS = 200;

const nameOf = (path: string): string => basename(path).replace(/\.[^.]+$/u, '');

/** Names are meant however they are capitalised, with or without the ending. */
export const isNamed = (song: string, name: string): boolean =>
  song.toLowerCase() === nameOf(name.trim()).toLowerCase() ||
  song.toLowerCase() === name.trim().toLowerCase();

function weightsOf(text: string | undefined): [name: string, weight: number][] {
  if (text === undefined) return [];
  return text.split(/[,;]/).map((part) => {
    const at = part.lastIndexOf('=');
    const [name, number] = [part.slice(0, at).trim(), part.slice(at + 1).trim()];
    const weight = Number(number);
    if (at <= 0 || !/^\d{1,6}(\.\d{1,3})?$/.test(number) || weight === 0)
      throw new Refusal(
        `--song-weights: found “${part.trim()}”; allowed is the name of a song and a number above 0, such as waltz=3.`,
        2,
      );
    return [name, weight];
  });
}

/** The files that are songs: of a folder those that can be read, in the order of their names. */
function songFiles(path: string): string[] {
  const there = resolve(terminal().folder, path);
  const kind = statSync(there, { throwIfNoEntry: false });
  if (kind === undefined) throw new Refusal(`--songs: ${path}: there is no such folder.`, 1);
  if (!kind.isDirectory()) return [path];
  let names: string[];
  try {
    names = readdirSync(there, { withFileTypes: true })
      .filter((each) => !each.isDirectory() && !each.name.startsWith('.'))
      .map((each) => each.name);
  } catch {
    throw new Refusal(`--songs: ${path}: it may not be read.`, 1);
  }
  return names
    .filter((name) => kindOfFile(name)?.read !== undefined || isTuneFile(name))
    .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
    .map((name) => join(path, name));
}

/**
 * Reads the songs; what cannot be taken of one is said, and one that cannot be read at all is left out and
 * said. Where none is left the call is refused.
 */
export async function loadSongs({ songs: path = '', songWeights }: SongOptions): Promise<Song[]> {
  const weights = weightsOf(songWeights);
  const files = songFiles(path);
  if (files.length > MOST_SONGS)
    throw new Refusal(
      `--songs: found ${files.length} songs; allowed are ${MOST_SONGS} at most.`,
      1,
    );
  const songs: Song[] = [];
  for (const file of files) {
    const read = await readProgressionFile(fileToRead(file));
    if (!read.ok) {
      say(`Left out: ${fileFaultText(file, read.error)}`);
      continue;
    }
    const { progression, piece, faults } = read.value;
    for (const each of faults) say(`${file}: not read: ${progressionFaultText(each)}`);
    if (!stepsOf(progression).some(({ chord }) => chord !== 'no chord')) {
      say(`Left out: ${file}: there is no chord in it.`);
      continue;
    }
    const name = songs.some((song) => song.name === nameOf(file)) ? basename(file) : nameOf(file);
    const weight = weights.find(([named]) => isNamed(name, named))?.[1] ?? 1;
    songs.push({ name, progression, weight, ...(piece === undefined ? {} : { piece }) });
  }
  if (songs.length === 0)
    throw new Refusal(
      `--songs: ${path}: there is no song in it that can be read (${endingsFor('read')}).`,
      1,
    );
  const unknown = weights.find(([named]) => !songs.some(({ name }) => isNamed(name, named)));
  if (unknown !== undefined)
    throw new Refusal(
      `--song-weights: found “${unknown[0]}”; the songs are ${songs.map(({ name }) => name).join(', ')}.`,
      1,
    );
  return songs;
}
