/**
 * Tablature as lessons and messages have it, as positions on a setup: staves of a line a string with frets
 * and controls on it (`3 --8A--`), or a line a position (`8 A,B 3-4-5`).
 */
import { fault } from '$lib/chartFaults';
import { guarded } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import { readChord } from '$lib/theory/readChord';
import { Doubts, type Doubt, type Piece } from './chart/doubts';
import { controlsLine, engagedIn, type Over } from './tablatureControls';
import { TablatureNecks } from './tablatureNecks';
import { hasControlsBehind, held, positionsOf, staveLine } from './tablatureStaves';

export interface TablatureReading {
  /** In the order in which they are played. */
  readonly positions: readonly Hold[];
  readonly doubts: readonly Doubt[];
}

/** What is longer is no lesson. */
const MOST_CHARACTERS = 100_000;
const MOST_LINES = 2000;
const LONGEST_LINE = 1000;

interface Line extends Piece {
  readonly number: number;
}

/** `8 A,B 3-4-5`, `fret 3: 4-5-6`: fret, controls, strings. */
const LISTED =
  /^\s*(?:fret |bund )?(\d{1,2})\s*[:|/]?\s*([\p{L}][\p{L}\d,+½ :]*?|-(?=\s))?\s*[:|/]?\s*(?:strings? |saiten? )?(\d{1,2}(?:\s*[-,]\s*\d{1,2}){0,9})\s*$/iu;

/** `8  3,4,5  A,B`: fret, strings, controls. */
const LISTED_LAST =
  /^\s*(?:fret |bund )?(\d{1,2})\s*[:|/]?\s+(?:strings? |saiten? )?(\d{1,2}(?:[-,]\s?\d{1,2}){1,9})\s*[:|/]?\s+([\p{L}][\p{L}\d,+½ ]*?)\s*$/iu;

const isListed = (text: string): boolean => LISTED.test(text) || LISTED_LAST.test(text);

function listedIn(
  setup: Setup,
  line: Line,
  necks: TablatureNecks,
  doubts: Doubts,
): Hold | undefined {
  const match = LISTED.exec(line.text);
  const last = LISTED_LAST.exec(line.text);
  const [, fretText = '', controls = '', grip = ''] = match ?? [
    last?.[0],
    last?.[1],
    last?.[3],
    last?.[2],
  ];
  if (match === null && last === null) return undefined;
  const fret = Number(fretText);
  const strings = [...new Set(grip.split(/[-,]/u).map(Number))].sort((a, b) => a - b);
  const at = line.at + line.text.indexOf(controls);
  const engaged = engagedIn(setup, { text: controls, at }, doubts);
  const neck = necks.of({ numbers: strings, engaged, piece: line });
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  if (fret > setup.frets || strings.some((string) => string < 1 || string > count)) {
    doubts.tell({
      key: `off:${line.at}`,
      piece: line,
      read: 'nothing: the setup has no such string or fret',
    });
    return undefined;
  }
  return held(setup, { neck, fret, slant: 0, strings, engaged }, line, doubts);
}

/** Tells the lines that were not read though they have to do with strings; songs and plain words lie between. */
function tellRemarks(setup: Setup, remarks: readonly Piece[], doubts: Doubts): void {
  const names = setup.controls.flatMap(({ id, station }) => [id, station]);
  for (const each of remarks) {
    const text = each.text.trim();
    const piece = { text, at: each.at + each.text.indexOf(text) };
    const speaks =
      /\d/u.test(text) ||
      text.split(/[^\p{L}\d]+/u).some((word) => word !== 'A' && names.includes(word));
    if (speaks && !COUNT_LINE.test(text) && !isChords(text))
      doubts.tell({
        key: `beside:${piece.at}`,
        piece,
        read: 'nothing: a line that could not be read',
      });
  }
}
/** Names of chords over a stave, with what the frets under them say already. */
const isChords = (text: string): boolean =>
  text.split(/[\s|]+/u).every((word) => word === '' || word === 'N.C.' || readChord(word).ok);
/** Beats counted over or under a stave: `1 2 3 4`, `1 & 2 &`. */
const COUNT_LINE = /^1(?:\s*(?:[+&]|and|e|a|[2-9]|1[0-6])(?=\s|$))+$/iu;

function readWithin(text: string, setup: Setup): Result<TablatureReading, DocumentFault> {
  const plain = text.replace(/[–—−]/gu, '-').replace(/[♯]/gu, '#').replace(/\t|\r/gu, ' ');
  const texts = plain.split('\n');
  if (
    text.length > MOST_CHARACTERS ||
    texts.length > MOST_LINES ||
    texts.some(({ length }) => length > LONGEST_LINE)
  )
    return refuse(fault('chart.tooMuch', '', MOST_LINES, LONGEST_LINE));
  const doubts = new Doubts({});
  const positions: Hold[] = [];
  const remarks: Piece[] = [];
  const necks = new TablatureNecks(setup, doubts);
  let stave: Line[] = [];
  let over: readonly Over[] = [];
  const close = (): void => {
    // one line of dashes alone is a rule
    if (stave.length > 1 || stave.some((line) => /\d\s*[-|.]+\d/u.test(line.text))) {
      positions.push(...positionsOf(setup, stave, over, necks, remarks, doubts));
    } else {
      remarks.push(...stave);
      remarks.push(...over.map(({ piece }) => piece));
    }
    stave = [];
    over = [];
  };
  let at = 0;
  const lines = texts.map((each, index): Line => {
    const line = { text: each, at, number: index + 1 };
    at += each.length + 1;
    return line;
  });
  const isBehind = hasControlsBehind(lines);
  for (const line of lines) {
    if (!isListed(line.text) && staveLine(line) !== undefined) {
      stave.push(line);
      continue;
    }
    close();
    const listed = isListed(line.text) ? listedIn(setup, line, necks, doubts) : undefined;
    if (listed !== undefined) positions.push(listed);
    else if (!isListed(line.text) && !necks.takeHeading(line.text)) {
      // `A  C` over frets that have their controls behind them are chords
      const above = isBehind && isChords(line.text) ? undefined : controlsLine(setup, line);
      if (above !== undefined) over = above;
      else remarks.push(line);
    }
  }
  close();
  tellRemarks(setup, remarks, doubts);
  return positions.length === 0
    ? refuse(fault('tablature.none', ''))
    : ok({ positions, doubts: doubts.list(text) });
}

/** Reads tablature for a setup; what cannot be read of it is told, a text without any is refused. */
export const readTablature = (
  text: string,
  setup: Setup,
): Result<TablatureReading, DocumentFault> =>
  guarded(
    'tablature',
    (each: DocumentFault) => each,
    () => readWithin(text, setup),
  );
