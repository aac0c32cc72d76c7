/**
 * Songs of the McGill Billboard annotations (J. A. Burgoyne, J. Wild, I. Fujinaga, ISMIR 2011; CC0).
 * The file lies outside of the project. Labels are Harte's: `root:shorthand(degrees)/bass`, `*` leaves
 * a degree out.
 */
import { existsSync, readFileSync } from 'node:fs';
import { chordOf } from '$lib/theory/chord';
import { degreeName } from '$lib/theory/degrees';
import { parseNoteName } from '$lib/theory/pitch';
import type { Bar, Progression, Slot } from '$lib/arrange/progression';

export const path = new URL(
  '../../../shared/checks/progressions-billboard-cc0.json',
  import.meta.url,
);
export const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/progressions-billboard-cc0.json is absent');

/** Harte et al. 2005 and the later additions in mir_eval/chord.py; the root is implied. */
const SHORTHANDS: Readonly<Record<string, string>> = {
  '': '',
  '1': '',
  '5': '5',
  maj: '3 5',
  min: 'b3 5',
  dim: 'b3 b5',
  aug: '3 #5',
  maj7: '3 5 7',
  min7: 'b3 5 b7',
  '7': '3 5 b7',
  dim7: 'b3 b5 bb7',
  hdim7: 'b3 b5 b7',
  minmaj7: 'b3 5 7',
  maj6: '3 5 6',
  min6: 'b3 5 6',
  '9': '3 5 b7 9',
  maj9: '3 5 7 9',
  min9: 'b3 5 b7 9',
  '11': '3 5 b7 9 11',
  min11: 'b3 5 b7 9 11',
  '13': '3 5 b7 9 11 13',
  min13: 'b3 5 b7 9 11 13',
  sus2: '2 5',
  sus4: '4 5',
};

/** A slip in the data: the second half of a label whose first half is lost. */
export const FAULTY = ['F:b3'];

const LABEL = /^([A-G][b#]*):([a-z0-9]*)(?:\(([^)]*)\))?(?:\/([b#]*\d+))?$/;

export function degreesOf(label: string): { root: string; degrees: string[] } {
  const match = LABEL.exec(label);
  const shorthand = SHORTHANDS[match?.[2] ?? '-'];
  if (!match || shorthand === undefined) throw new Error(`not a Harte label: ${label}`);
  const extra = (match[3] ?? '').split(/[\s,]+/).filter(Boolean);
  const omitted = extra.filter((d) => d.startsWith('*')).map((d) => d.slice(1));
  const all = [
    '1',
    ...shorthand.split(' ').filter(Boolean),
    ...extra.filter((d) => !d.startsWith('*')),
  ];
  return { root: match[1] ?? '', degrees: all.filter((d) => !omitted.includes(d)) };
}

interface Tune {
  readonly title: string;
  readonly tonic: string;
  readonly metre: string;
  readonly phrases: readonly (readonly [
    name: string,
    bars: readonly string[] | string,
    times?: number,
  ])[];
}

/** A song, and the labels that are no chord: single tones, slips of the data. */
export interface Song {
  readonly title: string;
  readonly tonic: string;
  /** The annotations name a new tonic on the way. */
  readonly modulates: boolean;
  readonly progression: Progression;
  readonly unread: readonly string[];
}

const WORD = /(?:\([^()]*\)|[^\s(])+/g;
/** A change of metre for one bar, and pauses: no chords. */
const ASIDE = /^(\(\d+\/\d+\)|&pause|[NX]|\*)$/;

function barOf(text: string, unread: string[], last: Slot['chord']): Bar {
  const slots: { chord: Slot['chord']; share: number }[] = [];
  for (const [word] of text.matchAll(WORD)) {
    const before = slots.at(-1);
    if (/^\(\d/.test(word)) continue;
    if (word === '.') {
      // a bar may begin with what goes on from the bar before
      if (before) before.share++;
      else slots.push({ chord: last, share: 1 });
    } else if (ASIDE.test(word)) slots.push({ chord: 'no chord', share: 1 });
    else slots.push({ chord: chordAt(word) ?? 'no chord', share: 1 });
    if (!ASIDE.test(word) && word !== '.' && slots.at(-1)?.chord === 'no chord') unread.push(word);
  }
  return { slots: slots.length === 0 ? [{ chord: 'no chord', share: 1 }] : slots };
}

/** The chord of a label with its bass; `undefined` for a single tone or a slip. */
function chordAt(label: string): Slot['chord'] | undefined {
  if (!LABEL.test(label) || FAULTY.includes(label)) return undefined;
  const { root, degrees } = degreesOf(label);
  const name = parseNoteName(root);
  if (!name || degrees.length < 2) return undefined;
  const bass = /\/([b#]*\d+)$/.exec(label)?.[1];
  return chordOf(name, degrees, bass === undefined ? undefined : degreeName(name, bass));
}

/** Every song as the program's own progression, repeats written out. */
export function songs(): Song[] {
  const { tunes } = JSON.parse(readFileSync(path, 'utf8')) as { tunes: readonly Tune[] };
  return tunes.map(({ title, tonic, phrases }) => {
    const unread: string[] = [];
    const bars: Bar[] = [];
    for (const [name, texts, times = 1] of phrases) {
      if (name.startsWith('#') || typeof texts === 'string') continue;
      for (let time = 0; time < times; time++)
        for (const text of texts)
          bars.push(barOf(text, unread, bars.at(-1)?.slots.at(-1)?.chord ?? 'no chord'));
    }
    return {
      title,
      tonic,
      modulates: phrases.some(([name]) => name === '#tonic'),
      progression: { title, bars },
      unread,
    };
  });
}
