/** The foot of a sheet that leads back to the screen: a QR code with the link, and what it holds in words. */
import type { Result } from '$lib/result';
import { text, MM_PER_POINT, type Mark } from './drawing';
import { isThisMachine, openAddress } from './paperAddress';
import type { PaperFlow } from './paperFlow';
import { codeMark, codeOf } from './qr';
import { wrapped } from './type/setting';

/** What a sheet's code is made of. */
export interface SheetCode {
  /** Where the program is found, as `readPaperAddress` gives it. */
  readonly address: string;
  /** What stands behind the `#`, or why there is no link. */
  readonly link: Result<string, string>;
  /** What the link opens: “this setup”, “this piece”. */
  readonly opens: string;
  /** What it does not hold, as a sentence; nothing where it holds all. */
  readonly beyond?: string;
}

const HEAD_PT = 9;
const WORDS_PT = 8;
const LINE_MM = WORDS_PT * MM_PER_POINT * 1.35;
const GAP_MM = 4;
const ABOVE_MM = 5;

const TOO_DENSE = 'It is too long for a code on paper. Save it as a file, or send the link.';

/** The sentences beside a code, or in its place. */
function sentences({ address, link, opens, beyond }: SheetCode, hasCode: boolean): string[] {
  if (!link.ok) return [`There is no code: ${link.error}`];
  if (!hasCode) return [`There is no code for ${opens}. ${TOO_DENSE}`];
  return [
    `The code opens ${opens} at ${address}.`,
    ...(beyond === undefined ? [] : [beyond]),
    ...(isThisMachine(address)
      ? [
          'That address is this machine alone: no other device reaches it. Set the one that others reach as “Address on paper”, in the menu at the top of the page or in the terminal with --address.',
        ]
      : []),
  ];
}

/** Words that stand beside a code too, above its own. */
export interface Beside {
  readonly heading: string;
  readonly paragraphs: readonly string[];
  /** Of the heading; 11 where nothing is said. */
  readonly sizePt?: number;
}

const HEADING_PT = 11;
const BETWEEN_MM = 3;

/** A line of words, and how far its baseline lies below the top of the block. */
interface Placed {
  readonly words: string;
  readonly y: number;
  readonly sizePt: number;
  readonly bold: boolean;
}

/** Words in lines of a width, from the top of a block on. */
function placed(
  parts: readonly (Beside & { sizePt: number })[],
  width: number,
): { lines: Placed[]; mm: number } {
  const lines: Placed[] = [];
  let y = 0;
  for (const { heading, paragraphs, sizePt } of parts) {
    if (y > 0) y += BETWEEN_MM;
    const head = sizePt * MM_PER_POINT * 1.5;
    lines.push({ words: heading, y: y + 0.75 * head, sizePt, bold: true });
    y += head;
    for (const each of paragraphs.flatMap((words) => wrapped(words, WORDS_PT, width))) {
      lines.push({ words: each, y: y + 0.73 * LINE_MM, sizePt: WORDS_PT, bold: false });
      y += LINE_MM;
    }
  }
  return { lines, mm: y };
}

/** The code with its words, as they are laid on a page. */
function laidOut(flow: PaperFlow, sheet: SheetCode, before: readonly Beside[]) {
  const code = sheet.link.ok ? codeOf(openAddress(sheet.address, sheet.link.value)) : undefined;
  const side = code?.sideMm ?? 0;
  const { lines, mm } = placed(
    [
      ...before.map((each) => ({ sizePt: HEADING_PT, ...each })),
      { heading: 'On a screen', paragraphs: sentences(sheet, code !== undefined), sizePt: HEAD_PT },
    ],
    flow.span - (code === undefined ? 0 : side + GAP_MM),
  );
  return { code, side, lines, mm: Math.max(side, mm) };
}

/** The room that a code takes with its words, in millimetres: what it belongs to goes along to its page. */
export const codeMm = (flow: PaperFlow, sheet: SheetCode): number =>
  ABOVE_MM + laidOut(flow, sheet, []).mm;

/**
 * Lays the code below what stands on the page, at the right, and its words beside it; turns the page where there
 * is no room.
 *
 * @param before words that take the same room, so that the sheet is no longer for its code
 */
export function drawCode(flow: PaperFlow, sheet: SheetCode, before: readonly Beside[] = []): void {
  const { code, side, lines, mm } = laidOut(flow, sheet, before);
  flow.skip(ABOVE_MM);
  flow.need(mm);
  const top = flow.y;
  const marks: Mark[] = lines.map(({ words, y, sizePt, bold }) =>
    text(flow.left, top + y, words, sizePt, { weight: bold ? 'bold' : 'regular' }),
  );
  // its white lies over the margin, so that its dark edge stands flush with what is above it
  if (code !== undefined) {
    const white = (side / (code.rows.length + 8)) * 4;
    marks.push(codeMark(code, flow.right - side + white, top));
  }
  flow.add(...marks);
  flow.y = top + mm;
}
