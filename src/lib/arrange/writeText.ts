/** The way back of `readProgression`: writing, reading and writing again changes nothing. */
import { keyText } from '$lib/theory/spelling';
import { divisor, metreOfPart } from './fractions';
import { melodyNoteText } from './melody';
import { MEASURES_A_LINE, SAME_PLACE, type Measure, type Piece } from './piece';
import { asWritten } from './pieceOf';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  quartersOf,
  type Bar,
  type Metre,
  type Slot,
} from './progression';

function slotText({ chord, share, melody }: Slot, unit: number): string {
  const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
  const note = melody === undefined ? '' : `:${melodyNoteText(melody)}`;
  return symbol + note + ' .'.repeat(share / unit - 1);
}

/** The chords of a bar, each held on for the shares beyond its first. */
export function barText({ slots }: Bar): string {
  const unit = slots.reduce((common, { share }) => divisor(common, share), 0);
  return slots.map((slot) => slotText(slot, unit)).join(' ');
}

const metreText = ({ beats, unit }: Metre): string => `${beats}/${unit}`;

/** The line that opens a measure: a repeat begins, or an ending does. */
function opening({ repeats, endings }: Measure, before: Measure | undefined): string {
  const opens = repeats === true ? '|: ' : '';
  const goesOn =
    endings?.join() === before?.endings?.join() && before?.times === undefined && opens === '';
  if (endings !== undefined && !goesOn) return `${opens}|${endings.join()}. `;
  return opens;
}

const JUMPS = { beginning: 'D.C.', segno: 'D.S.' } as const;
const UNTIL = { end: '', fine: ' al Fine', coda: ' al Coda' } as const;

/** A measure's signs: those that begin it, and those behind its chords. */
function signsOf({ segno, coda, toCoda, fine, jump }: Measure): [before: string, behind: string] {
  const signs = (all: readonly (string | false)[]): string[] =>
    all.flatMap((each) => (each === false ? [] : [`(${each})`]));
  return [
    signs([segno === true && 'Segno', coda === true && 'Coda']).join(' '),
    signs([
      toCoda === true && 'To Coda',
      fine === true && 'Fine',
      jump !== undefined && `${JUMPS[jump.to]}${UNTIL[jump.until]}`,
    ]).join(' '),
  ];
}

/** The line that closes it: a part is repeated, or endings are over. */
function closing({ times, endings }: Measure, next: Measure | undefined): string {
  if (times !== undefined) return times === 2 ? ' :|' : ` :|x${String(times)}`;
  return endings !== undefined && next?.endings === undefined ? ' ||' : '';
}

/** Joins the texts of measures; a repeat's or an ending's sign is a bar line itself. */
const joined = (line: readonly string[]): string =>
  line.reduce((text, each) => {
    if (text === '') return each;
    const isParted = /:\|(?:x\d+)?$|\|\|$/u.test(text) || each.startsWith('|');
    return `${text}${isParted ? ' ' : ' | '}${each}`;
  }, '');

const remarkText = (remark: string): string => `# ${remark}`.trimEnd();

/**
 * A piece as text, in the lines that its measures tell, melody notes behind their chords; words and all notes but
 * those have no place in it.
 */
export function writePiece(piece: Piece): string {
  const { title, key, tempo, metre, bars } = asWritten(piece);
  const lines: string[] = [];
  if (title !== undefined) lines.push(`title: ${title}`);
  if (key !== undefined) lines.push(`key: ${keyText(key)}`);
  if (tempo !== undefined) lines.push(`tempo: ${String(tempo)}`);
  // where a tempo of its own stands, should one be told below
  const headed = lines.length;
  const changes = piece.measures.some(
    (each) => each.metre !== undefined || each.lasts !== undefined,
  );
  const hasOwnLines = piece.measures.some(({ newLine }) => newLine === true);
  if (metre !== undefined || changes) lines.push(`metre: ${metreText(metre ?? DEFAULT_METRE)}`);
  let line: string[] = [];
  const endLine = (): void => {
    if (line.length > 0) lines.push(joined(line));
    line = [];
  };
  let inForce = metre ?? DEFAULT_METRE;
  let now = metreText(inForce);
  let speed = tempo;
  let running = tempo;
  for (const [at, bar] of bars.entries()) {
    const measure = piece.measures[at] as Measure;
    inForce = measure.metre ?? inForce;
    const { lasts = quartersOf(inForce) } = measure;
    const own = metreText(metreOfPart(inForce, lasts / quartersOf(inForce)));
    const isPickup = at === 0 && lasts < quartersOf(inForce);
    if (measure.remarks !== undefined) {
      endLine();
      lines.push(...measure.remarks.map(remarkText));
    }
    if (own !== now) {
      endLine();
      lines.push(`${isPickup ? 'pickup' : 'metre'}: ${own}`);
    }
    // after a pickup the piece's metre holds by itself
    now = isPickup ? metreText(inForce) : own;
    running = measure.tempos?.find(({ at: place }) => place < SAME_PLACE)?.tempo ?? running;
    // a change within a measure is told at the next one
    if (running !== speed) {
      endLine();
      // the first line that tells a tempo is the piece's own
      if (speed === undefined && at > 0) lines.splice(headed, 0, `tempo: ${String(DEFAULT_TEMPO)}`);
      lines.push(`tempo: ${String(running)}`);
    }
    speed = running;
    running = measure.tempos?.at(-1)?.tempo ?? running;
    const isFull = hasOwnLines ? measure.newLine === true : line.length === MEASURES_A_LINE;
    if (bar.section !== undefined || isFull) endLine();
    if (bar.section !== undefined) lines.push(`[${bar.section}]`);
    const [before, behind] = signsOf(measure);
    const within = [before, barText(bar), behind].filter((each) => each !== '').join(' ');
    line.push(
      opening(measure, piece.measures[at - 1]) + within + closing(measure, piece.measures[at + 1]),
    );
  }
  endLine();
  lines.push(...(piece.remarks ?? []).map(remarkText));
  return lines.map((each) => `${each}\n`).join('');
}
