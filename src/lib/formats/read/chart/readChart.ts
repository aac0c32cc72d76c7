/**
 * A chart as people keep it (typed in columns, as CSV, in Markdown, in lines or sentences) as a setup, with
 * everything that was doubtful on the way.
 */
import { fault } from '$lib/chartFaults';
import { guarded } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import { readSetup, readSetupText } from '$lib/setup/readSetup';
import { STATIONS, type Setup } from '$lib/setup/setup';
import { DEFAULTS } from '$lib/setup/bounds';
import { setupFileOf } from '$lib/setup/writeSetup';
import { controlsOf } from './controlsOf';
import { byPipes, bySign, bySlashes, linesOf } from './cutting';
import { byPlace } from './cuttingByPlace';
import { Doubts, type Doubt, type Piece, type Settled } from './doubts';
import { joined } from './joined';
import { mannerOf } from './manner';
import { addPulls, type FilledControl } from './pullsOf';
import type { Written } from './reading';
import { sentencesIn } from './sentences';
import { stringsOf, type FoundStrings } from './stringsOf';
import { tablesIn } from './tables';
import { clean, tellIdle, tellUnused } from './unused';

export interface ChartReading {
  readonly setup: Setup;
  /** In the order of the text. */
  readonly doubts: readonly Doubt[];
}

/** What is longer is no chart: three necks of fourteen strings, twenty controls and a page of remarks are far below. */
const MOST_CHART_CHARACTERS = 60_000;
/** The same in lines. */
const MOST_CHART_LINES = 400;
const A_CHART = 'a chart: strings with their open notes, and what each pedal or lever does to them';
/** Beyond this a line is no row of a chart, and is not searched for words. */
const LONGEST_LINE = 2000;

const spaces = (found: string): string => ' '.repeat(found.length);

const SIGNS: readonly (readonly [RegExp, string | ((found: string) => string)])[] = [
  // pictures, and what makes a picture of the sign before it
  [/[\u{1f53c}]/gu, '⬆ '],
  [/[\u{1f53d}]/gu, '⬇ '],
  [/[\u{1f000}-\u{1faff}\ufe0f\u20e3\u200d]/gu, spaces],
  [/[−–—‐‑]/gu, '-'],
  [/♯/gu, '#'],
  [/♭/gu, 'b'],
  [/[│┃║¦]/gu, '|'],
  [/\r(?!\n)/gu, '\n'],
  // the marks of a quoted letter
  [/^(?:[ \t]*>)+(?=\s|$)/gmu, spaces],
  // a page's source: its cells as cells between pipes
  [/<\/?t[dh]\b[^>\n]{0,200}>/giu, (tag) => '|'.padEnd(tag.length)],
  [/<\/?[a-z][^>\n]{0,200}>/giu, spaces],
  [/[\u00a0\u2000-\u200a\u202f\u3000\r\ufeff]/gu, ' '],
];

/** The marks of a forum's pages, where one of them is closed somewhere: `[b]` alone is a note in brackets. */
const MARKED = /\[\/[a-z]{1,6}\]/iu;
const MARKS: typeof SIGNS = [
  [/\[\/?t[dh]\]/giu, (mark) => '|'.padEnd(mark.length)],
  [/\[\*\]/gu, ' * '],
  [
    /\[\/?(?:[bisu]|list|quote|code|pre|url|size|color|font|center|table|tr)(?:=[^\]\n]{0,100})?\]/giu,
    spaces,
  ],
];

/** A text in plain signs; each stays where it was, so that places in it are places in the original. */
const plain = (text: string): string =>
  [...(MARKED.test(text) ? MARKS : []), ...SIGNS].reduce(
    (each, [found, put]) =>
      typeof put === 'string' ? each.replace(found, put) : each.replace(found, put),
    text,
  );

/** What a doubt in which nothing was read takes from a reading's sense: more than the cell or line gave it. */
const UNREAD = 6;

/** Every way of reading a text that finds something in it, the one that makes most sense first. */
function writtenIn(text: string): Written[] {
  const lines = linesOf(text);
  const cuts = [
    byPipes(lines),
    bySlashes(lines),
    bySign(text, '\t'),
    bySign(text, ';'),
    bySign(text, ','),
    byPlace(lines),
  ];
  return [...cuts.map((cut) => cut && tablesIn(cut)), sentencesIn(text)]
    .flatMap((reading) => (reading !== undefined && reading.score > 0 ? [reading] : []))
    .sort((a, b) => b.score - a.score);
}

const TITLE = 120;

/** What stands beside the tables: a title above, remarks elsewhere. */
function wordsBeside(
  beside: readonly Piece[],
  first: number,
): { title: string | undefined; remarks: string } {
  const [title, ...rest] = beside;
  const isTitle =
    title !== undefined &&
    title.at < first &&
    clean(title.text).length <= TITLE &&
    clean(title.text) !== '';
  const remarks = (isTitle ? rest : beside)
    .map(({ text }) => clean(text))
    .filter((text) => text !== '');
  return {
    title: isTitle ? clean(title.text) : undefined,
    remarks: remarks.join('\n').slice(0, 5000),
  };
}

function assembled(written: Written, text: string, doubts: Doubts): Result<Setup, DocumentFault> {
  const { necks, beside } = joined(written, text, doubts);
  const manner = mannerOf(written, text, doubts);
  if (necks.length > 3) return refuse(fault('chart.none', ''));
  const strings: FoundStrings[] = [];
  for (const [index, neck] of necks.entries()) {
    const found = stringsOf(neck, index + 1, manner, text, doubts);
    if (!found.ok) return found;
    strings.push(found.value);
  }
  const { controls: places, keyOf } = controlsOf(necks, beside, doubts);
  const controls = new Map<string, FilledControl>();
  let unread = 0;
  for (const [key, { station, id }] of places) controls.set(key, { station, id, pulls: [] });
  for (const [index, neck] of necks.entries()) {
    const here = strings[index];
    if (here === undefined) continue;
    unread += addPulls(
      neck,
      index + 1,
      here,
      (control) => {
        const name = neck.controls[control]?.name;
        return name && controls.get(keyOf(name));
      },
      manner,
      doubts,
    );
  }
  const read = [...controls.values()].reduce((sum, { pulls }) => sum + pulls.length, 0);
  // controls of which most of what stands there is no pull are words that happen to look like some
  if (controls.size > 0 && (read === 0 || unread > read)) return refuse(fault('chart.none', ''));
  const first = Math.min(
    ...necks.flatMap((neck) =>
      [...neck.strings, ...neck.controls].flatMap(({ piece }) =>
        piece.text === '' ? [] : piece.at,
      ),
    ),
  );
  const { title, remarks } = wordsBeside(beside, first);
  const leftOut = necks.flatMap((neck) => neck.leftOut);
  tellUnused(leftOut, beside, title, text, doubts);
  tellIdle(necks, (name) => controls.get(keyOf(name)), doubts);
  const name = strings.map((each) => each.name).join(' and ');
  const setup: Setup = {
    name: title ?? `${name}, read from a chart`,
    ...(remarks === '' ? {} : { notes: remarks }),
    frets: DEFAULTS.frets,
    scaleLengthMm: DEFAULTS.scaleLengthMm,
    referenceHz: DEFAULTS.referenceHz,
    reach: DEFAULTS.reach,
    necks: strings.map((each) => ({ name: each.name, strings: each.strings })),
    controls: [...controls.values()]
      .map((control) => ({
        ...control,
        pulls: control.pulls.toSorted((a, b) => a.neck - b.neck || a.string - b.string),
      }))
      .sort((a, b) => STATIONS.indexOf(a.station) - STATIONS.indexOf(b.station)),
  };
  const checked = readSetup(setupFileOf(setup));
  if (checked.ok) return checked;
  const wrong = checked.error[0];
  return refuse(
    fault('chart.impossible', wrong?.path ?? '', wrong?.found ?? '', wrong?.allowed ?? ''),
  );
}

function readWithin(text: string, settled: Settled): Result<ChartReading, DocumentFault> {
  if (text.trim() === '') return refuse(fault('chart.empty', ''));
  if (text.trimStart().startsWith('{')) {
    const file = readSetupText(text);
    if (file.ok) return ok({ setup: file.value, doubts: [] });
  }
  if (text.length > MOST_CHART_CHARACTERS)
    return refuse(fault('text.tooLong', '', text.length, MOST_CHART_CHARACTERS));
  const simple = plain(text);
  const lines = simple.split('\n');
  if (lines.length > MOST_CHART_LINES || lines.some(({ length }) => length > LONGEST_LINE))
    return refuse(fault('chart.tooMuch', '', MOST_CHART_LINES, LONGEST_LINE));
  let refused: DocumentFault | undefined;
  let best: { readonly setup: Setup; readonly doubts: Doubts; readonly sense: number } | undefined;
  for (const written of writtenIn(simple)) {
    const doubts = new Doubts(settled);
    const setup = assembled(written, simple, doubts);
    if (!setup.ok) {
      refused ??= setup.error;
      continue;
    }
    const sense = written.score - UNREAD * doubts.unread;
    if (best === undefined || sense > best.sense) best = { setup: setup.value, doubts, sense };
    if (best.doubts.unread === 0) break;
  }
  return best === undefined
    ? refuse(refused ?? fault('chart.none', ''))
    : ok({ setup: best.setup, doubts: best.doubts.list(text) });
}

/**
 * Reads a chart. What is open in it is read in the usual way and told as a doubt; `settled` says what the
 * player chose instead. A text that is no chart is refused with a fault.
 */
export const readChart = (
  text: string,
  settled: Settled = {},
): Result<ChartReading, DocumentFault> =>
  guarded(
    A_CHART,
    (each: DocumentFault) => each,
    () => readWithin(text, settled),
  );
