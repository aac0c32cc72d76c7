/** A chord book of a setup: positions gathered by the engine, as data that is drawn on paper. */
import { prettyName, prettySymbol, spokenType } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { chordsOfKey } from '$lib/theory/keyChords';
import { pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { scaleTypeNamed } from '$lib/theory/scales';
import { commonRoot, rootInKey, type Key } from '$lib/theory/spelling';
import { chordWith } from '$lib/theory/wantedType';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf, type Lesson } from '$lib/coverage/lesson';
import { yardstick } from '$lib/coverage/yardstick';
import type { Book, BookSection, NeckGroup, PaperNeck } from '$lib/formats/book';
import { FRETS, foundNeck, positionsOfChord } from './bookPositions';
import type { BookQuestion } from './bookQuestion';
import { ladderSection, scaleSection } from './bookScales';
import { keyWords, tonesText } from './bookWords';
import { useText } from './lessonText';
import { gripTexts, lies, stringsOf } from './paperNeck';

/** The pitch classes of a key; in minor with the raised leading note besides. */
function setOfKey({ tonic, mode }: Key): number {
  const scale = scaleTypeNamed(mode);
  const raised = mode === 'minor' ? pcSetOf([11]) : 0;
  return transpose((scale?.set ?? 0) | raised, chromaOfName(tonic));
}

/** The chords of a type in a key, the tonic's first; where the key has none of them, that on the tonic. */
function chordsIn(key: Key, type: string): Chord[] {
  const within = setOfKey(key);
  const set = typeWithSuffix(type)?.set ?? 0;
  const tonic = chromaOfName(key.tonic);
  const roots = Array.from({ length: 12 }, (_, above) => chromaOf(tonic + above)).filter(
    (root) => (transpose(set, root) & ~within) === 0,
  );
  return (roots.length === 0 ? [tonic] : roots).map((root) =>
    chordWith(rootInKey(root, type, key), type),
  );
}

const onEveryRoot = (type: string): Chord[] =>
  Array.from({ length: 12 }, (_, root) => chordWith(commonRoot(root, type), type));

function chordSection(setup: Setup, { types, key, allKeys, positions }: BookQuestion): BookSection {
  return {
    title: allKeys ? 'Chords in all keys' : `Chords in ${keyWords(key)}`,
    words: [
      `The ${positions} easiest positions of each, from the nut to fret ${Math.min(FRETS, setup.frets)}; the same lie twelve frets higher.`,
    ],
    groups: types.flatMap((type) =>
      (allKeys ? onEveryRoot(type) : chordsIn(key, type)).map((chord): NeckGroup => {
        const symbol = prettySymbol(chord.symbol);
        const found = positionsOfChord(setup, chord, positions);
        return {
          name: `${symbol}, ${spokenType(type)}`,
          aside: tonesText(chord.tones),
          words: found.length === 0 ? ['No position of it is within reach.'] : [],
          necks: found.map((each) => foundNeck(setup, chord, each)),
        };
      }),
    ),
  };
}

/** The chords of the first positions, with how many of each: they come to ten. */
const FIRST = {
  major: [
    ['I', 3],
    ['IV', 3],
    ['V', 3],
    ['vi', 1],
  ],
  minor: [
    ['i', 3],
    ['iv', 3],
    ['V', 3],
    ['VI', 1],
  ],
} as const;
const TEN = 10;

/**
 * Ten positions to learn first: three of each of the chords that most songs stand on, and one of the next (common
 * practice of the trade). Where a chord has fewer, the others have more.
 */
function firstSection(setup: Setup, { key }: BookQuestion): BookSection {
  const chords = chordsOfKey(key);
  const found = FIRST[key.mode].flatMap(([numeral, own]) => {
    const chord = chords.find((each) => each.numeral === numeral)?.chord;
    return chord === undefined
      ? []
      : [{ numeral, chord, own, all: positionsOfChord(setup, chord, TEN) }];
  });
  const counts = found.map(({ own, all }) => Math.min(own, all.length));
  for (let left = TEN - counts.reduce((sum, each) => sum + each, 0); left > 0; left--) {
    const at = found.findIndex(({ all }, index) => (counts[index] ?? 0) < all.length);
    if (at < 0) break;
    counts[at] = (counts[at] ?? 0) + 1;
  }
  return {
    title: 'First ten positions',
    words: [
      `In ${keyWords(key)}: what most songs stand on, each chord at its easiest positions. Moved along the neck they are the same in every other key.`,
    ],
    groups: [
      {
        name: '',
        words: [],
        necks: found.flatMap(({ numeral, chord, all }, at) =>
          all
            .slice(0, counts[at] ?? 0)
            .map((each) =>
              foundNeck(setup, chord, each, `${prettySymbol(chord.symbol)} (${numeral})`),
            ),
        ),
      },
    ],
  };
}

/** The fret at which a neck's open chord is the key's tonic. */
const homeFret = ({ tonics }: Pick<Lesson, 'tonics'>, neck: number, { tonic }: Key): number =>
  chromaOf(chromaOfName(tonic) - (tonics[neck - 1] ?? 0));

/** Moves and positions that a lesson shows at most. */
const SHOWN = 4;

function leverGroup(setup: Setup, id: string, key: Key): NeckGroup | undefined {
  const control = setup.controls.find((each) => each.id === id);
  const neck = control?.pulls[0]?.neck;
  if (neck === undefined) return undefined;
  const lesson = lessonOf(setup, id, yardstick(EVERYDAY_REPERTOIRE));
  const fret = homeFret(lesson, neck, key);
  const { short, by } = lesson;
  const chord = (number: number, on: number): Chord =>
    chordInKey(by, number, fret, keyAt(lesson, on, fret));
  const shown = (
    on: number,
    engaged: Choice,
    grips: readonly (readonly number[])[],
    what: Chord,
  ): Omit<PaperNeck, 'name' | 'remark'> => ({
    neck: on,
    fret,
    engaged,
    strings: stringsOf(setup, { neck: on, fret, engaged, grips, tones: what.tones }),
    grips: gripTexts(grips),
    missing: [],
  });
  const moves = short.moves.slice(0, SHOWN).map((move): PaperNeck => {
    const [was, is] = [chord(move.was, move.neck), chord(move.is, move.neck)];
    const grips = move.grips.map(({ strings }) => strings);
    return {
      ...shown(move.neck, [...move.held, move.pressed], grips, is),
      name: `${prettySymbol(was.symbol)} to ${prettySymbol(is.symbol)}`,
      remark: lies(setup, { neck: move.neck, fret, slant: 0 }),
    };
  });
  const positions = short.positions.slice(0, SHOWN).map((each): PaperNeck => ({
    ...shown(each.neck, each.engaged, each.grips, chord(each.chordNumber, each.neck)),
    name: prettySymbol(chord(each.chordNumber, each.neck).symbol),
    remark: lies(setup, { neck: each.neck, fret, slant: 0 }),
  }));
  return {
    name: `What ${id} is for`,
    words: [useText(lesson, fret)],
    necks: [...moves, ...positions],
  };
}

const leverSection = (setup: Setup, { key }: BookQuestion): BookSection => ({
  title: 'What each pedal and lever is for',
  words: [
    `With the bar where the open strings sound ${prettyName(key.tonic)}: first what becomes of the open chord as it is pressed, then where it leads together with others.`,
  ],
  groups: setup.controls.flatMap(({ id }) => leverGroup(setup, id, key) ?? []),
});

const SECTIONS = {
  first: firstSection,
  chords: chordSection,
  levers: leverSection,
  ladders: ladderSection,
  scales: scaleSection,
} as const;

/** Gathers a book. Sections without anything in them are left out. */
export function bookOf(setup: Setup, question: BookQuestion): Book {
  const { parts, key, allKeys } = question;
  return {
    title: 'Chord book',
    about: allKeys
      ? `Chords in all keys; everything else in ${keyWords(key)}`
      : `In ${keyWords(key)}`,
    setup,
    sections: parts
      .map((part) => SECTIONS[part](setup, question))
      .filter(({ groups }) => groups.some(({ necks, tab }) => necks.length > 0 || tab)),
  };
}
