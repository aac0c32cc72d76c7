/** What a chart says that the reading made no use of: all of it is told. */
import { isLegend } from './controlsOf';
import type { Doubts, Piece } from './doubts';
import { labelRole } from './label';
import type { FilledControl } from './pullsOf';
import type { WrittenNeck } from './reading';
import type { StationName } from './stationName';

/** A line without what is drawn around its words. */
export const clean = (text: string): string =>
  text.replace(/^[\s#*_>=-]+|[\s*_=:-]+$/gu, '').trim();

/** Words that speak of the instrument; what none of them is in is a remark. */
const OF_THE_CHART =
  /\d|[#♯+±↑↓½]|(?<!\p{L})(?:[LR]K?[LRV]|[A-H](?:is|es|b)?|strings?|saiten?|pedals?|levers?|hebel|knees?|knie|raise[sd]?|lower(?:s|ed)?|drop(?:s|ped)?|hebt|senkt|half|whole|tones?|halb|ganz|standard|same|usual|also|auch|up|down)(?!\p{L})/u;

/** Headings that say nothing by themselves. */
const HEADING =
  /^(?:(?:the )?[A-G][#b]?\d{0,2}[ -](?:neck|hals)|(?:neck|hals) [A-G\d][#b]?\d{0,2}(?: ?\([A-G][#b]?\d{0,2}\)?)?|(?:the )?(?:other|first|second|front|back|1st|2nd) neck)$|^(?:(?:left|right) knee|floor|linkes knie|rechtes knie|boden)$|^(?:the )?(?:floor |knee |foot |my )?(?:pedals?|levers?|changes|copedent|copedant|setup|tuning|chart|neck|pedale|hebel|kniehebel)(?: (?:and|und|&) (?:knee )?(?:levers?|pedals?|hebel|kniehebel|pedale))?$/iu;

const isHeading = (words: string): boolean =>
  HEADING.test(words) ||
  words.split(/[\s|,;]+/u).every((word) => word === '' || labelRole(word) !== undefined);

const speaks = (text: string): boolean => OF_THE_CHART.test(text);

/** Pieces of one line as one piece. */
function byLine(pieces: readonly Piece[], text: string): Piece[] {
  const lines = new Map<number, { from: number; to: number }>();
  for (const piece of pieces) {
    const start = text.lastIndexOf('\n', piece.at - 1);
    const to = piece.at + Math.max(1, piece.text.length);
    const here = lines.get(start) ?? { from: piece.at, to };
    lines.set(start, { from: Math.min(here.from, piece.at), to: Math.max(here.to, to) });
  }
  return [...lines.values()].map(({ from, to }) => ({ text: text.slice(from, to), at: from }));
}

/**
 * Tells what was left out of rows and sentences, a doubt a line, and the lines beside them. Words that can have
 * to do with the strings each stand for themselves; all plain remarks are one doubt.
 */
export function tellUnused(
  leftOut: readonly Piece[],
  beside: readonly Piece[],
  title: string | undefined,
  text: string,
  doubts: Doubts,
): void {
  const remarks: Piece[] = [];
  const inRows = byLine(
    leftOut.filter((piece) => /[\p{L}\p{N}?!+]/u.test(piece.text)),
    text,
  );
  for (const piece of inRows)
    if (
      leftOut.some(
        (each) =>
          each.at >= piece.at && each.at < piece.at + piece.text.length && speaks(each.text),
      )
    )
      doubts.tell({ key: `left:${piece.at}`, piece, read: 'nothing: it is no part of the chart' });
    else remarks.push(piece);
  for (const piece of beside) {
    const words = clean(piece.text);
    if (!/[\p{L}\d]/u.test(words) || isHeading(words) || isLegend(piece)) continue;
    const isTitle = words === title && piece === beside[0];
    if (isTitle ? SAYS_PULLS.test(piece.text) : speaks(piece.text))
      doubts.tell({
        key: `beside:${piece.at}`,
        piece,
        read: isTitle
          ? 'the name of the setup, and nothing else'
          : 'nothing: a line that could not be read, kept in the notes',
      });
    else if (!isTitle) remarks.push(piece);
  }
  const [first, ...more] = remarks.sort((a, b) => a.at - b.at);
  if (first !== undefined)
    doubts.tell({
      key: 'remarks',
      piece: first,
      read: `a remark, and no part of the chart${more.length === 0 ? '' : `, as ${more.length} more`}`,
    });
}

/** A title that says more than what the instrument is. */
const SAYS_PULLS =
  /(?<!\p{L})(?:[LR]K[LRV]|P\d|raise[sd]?|lower(?:s|ed)?|drop(?:s|ped)?|hebt|senkt|standard|usual|same)(?!\p{L})|[+][\d½]/iu;

/** Tells which controls have no pull. */
export function tellIdle(
  necks: readonly WrittenNeck[],
  controlAt: (name: StationName) => FilledControl | undefined,
  doubts: Doubts,
): void {
  const idle = new Map<string, Piece>();
  for (const { name, piece } of necks.flatMap(({ controls }) => controls)) {
    const control = controlAt(name);
    if (control?.pulls.length === 0 && !idle.has(control.id)) idle.set(control.id, piece);
  }
  const [first] = idle.values();
  if (first !== undefined)
    doubts.tell({
      key: 'idle',
      piece: first,
      found: [...idle.keys()].join(', '),
      read: 'no pulls: none stands there',
    });
}
