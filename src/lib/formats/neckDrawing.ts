/** A position as a small neck on paper: strings across, the bar, tones on their strings, notes and what moves them. */
import { box, disc, line, text, type Mark } from './drawing';
import type { PaperNeck, PaperString } from './book';
import { cut, fittedPt, widthMm } from './type/setting';

const STRING_MM = 3.35;
const DISC_MM = 1.6;
/** From the left edge to the first fret wire: room for the numbers of the strings. */
const NUMBERS_MM = 4.5;
/** Right of the neck: notes, and by how much they are moved. */
const NOTES_MM = 12.5;
/** Above the strings: the name, and what is engaged. */
const HEAD_MM = 10.5;
/** Below them: the grips, and what else there is to tell. */
const FOOT_MM = 7;
const NAME_PT = 10;
const HEAD_PT = 8;
const TONE_PT = 5.6;
const SMALL_PT = 6;

const GREY = 0.4;
const PALE = 0.14;

/** How high a small neck is, in millimetres. */
export const neckMm = (strings: number): number => HEAD_MM + (strings - 1) * STRING_MM + FOOT_MM;

const signed = (semitones: number): string =>
  semitones === 0 ? '' : semitones > 0 ? `+${semitones}` : `−${-semitones}`;

/** Frets on show: one more on each side of where the bar lies; the nut is at the left end. */
function fretsOf({ strings, fret }: PaperNeck): readonly [number, number] {
  const frets = strings.filter(({ part }) => part !== 'none').map((each) => each.fret);
  const low = Math.min(fret, ...frets);
  const high = Math.max(fret, ...frets);
  return [Math.max(0, low - 2), Math.max(high + 1, Math.max(0, low - 2) + 3)];
}

function discMarks(x: number, y: number, { tone, part }: PaperString): Mark[] {
  if (part === 'none') return [];
  const pt = fittedPt(tone, TONE_PT, DISC_MM * 1.7, 'bold');
  const words = text(x, y + pt * 0.125, tone, pt, { weight: 'bold', align: 'middle' });
  return part === 'grip'
    ? [disc(x, y, DISC_MM), { ...words, ink: 0 }]
    : [disc(x, y, DISC_MM, 0.55), disc(x, y, DISC_MM - 0.18, 0), words];
}

/** The marks of a small neck whose top left corner is at a point, in a width. */
export function neckMarks(neck: PaperNeck, x: number, top: number, widthMm_: number): Mark[] {
  const { strings } = neck;
  const left = x + NUMBERS_MM;
  const right = x + widthMm_ - NOTES_MM;
  const first = top + HEAD_MM;
  const last = first + (strings.length - 1) * STRING_MM;
  const [low, high] = fretsOf(neck);
  const xOf = (fret: number): number => left + ((fret - low) / (high - low)) * (right - left);
  const yOf = (at: number): number => first + at * STRING_MM;

  const marks: Mark[] = [...headMarks(neck, x, top, widthMm_)];
  for (let fret = low; fret <= high; fret++)
    marks.push(
      line([xOf(fret), first], [xOf(fret), last], fret === 0 ? 0.7 : 0.15, fret === 0 ? 1 : GREY),
    );
  strings.forEach((each, at) => {
    const y = yOf(at);
    marks.push(
      line([left, y], [right, y], undefined, each.part === 'none' ? GREY * 0.6 : 0.75),
      text(left - 1.4, y + 0.75, String(at + 1), SMALL_PT, { align: 'end', grey: true }),
    );
  });
  marks.push(...barMarks(neck, xOf, yOf));
  strings.forEach((each, at) => marks.push(...discMarks(xOf(each.fret), yOf(at), each)));
  strings.forEach((each, at) => marks.push(...noteMarks(each, right + 1.6, yOf(at) + 0.75)));
  marks.push(...footMarks(neck, x, last, widthMm_));
  return marks;
}

/** The bar from the first to the last of the strings that it stops; none at the nut. */
function barMarks(
  { strings, fret }: PaperNeck,
  xOf: (fret: number) => number,
  yOf: (at: number) => number,
): Mark[] {
  if (fret === 0) return [];
  const slanted = strings.some((each) => each.part !== 'none' && each.fret !== fret);
  const stopped = strings.flatMap((each, at) => (each.part === 'none' ? [] : [{ each, at }]));
  const [from, to] = [stopped[0], stopped.at(-1)];
  if (slanted && from !== undefined && to !== undefined)
    return [
      line([xOf(from.each.fret), yOf(from.at)], [xOf(to.each.fret), yOf(to.at)], 1.1, PALE * 2),
    ];
  const [top, bottom] = [yOf(0) - 1.2, yOf(strings.length - 1) + 1.2];
  return [box(xOf(fret) - 0.55, top, 1.1, bottom - top, PALE * 2)];
}

function noteMarks({ note, moved, part, beside }: PaperString, x: number, y: number): Mark[] {
  const grey = part === 'none';
  const weight = part === 'grip' ? 'bold' : 'regular';
  return [
    text(x, y, note, SMALL_PT, { grey, weight }),
    ...(moved === 0 ? [] : [text(x + 6.4, y, signed(moved), SMALL_PT, { weight: 'bold' })]),
    ...(beside === undefined || beside === ''
      ? []
      : [text(x + 10.4, y, beside, SMALL_PT, { grey: true })]),
  ];
}

/** The name, and at its right what is engaged; a word on it below. */
function headMarks(
  { name, remark, engaged }: PaperNeck,
  x: number,
  top: number,
  width: number,
): Mark[] {
  const controls = engaged.map(({ id, state }) => (state === 'half' ? `${id}½` : id)).join('+');
  const room = width - 2;
  const held = controls === '' ? 'no pedals or levers' : controls;
  const pt = fittedPt(name, NAME_PT, room, 'bold');
  const below = remark === '' ? held : `${remark} · ${held}`;
  return [
    text(x, top + 3.6, name, pt, { weight: 'bold' }),
    text(x, top + 7.4, cut(below, HEAD_PT, room), HEAD_PT, {
      grey: controls === '' && remark === '',
    }),
  ];
}

/** The grips, as many as there is room for; then what is left out, and the effort. */
function footMarks(
  { grips, missing, effort }: PaperNeck,
  x: number,
  last: number,
  width: number,
): Mark[] {
  const room = width - 2;
  const told = [
    ...(missing.length === 0 ? [] : [`no ${missing.join(', no ')}`]),
    ...(effort === undefined ? [] : [`effort ${effort.toFixed(2)}`]),
  ].join(' · ');
  return [
    text(x, last + 4.2, gripsText(grips, room), SMALL_PT),
    text(x, last + 6.8, cut(told, SMALL_PT, room), SMALL_PT, { grey: true }),
  ];
}

/** As many grips as fit, and how many there are besides. */
function gripsText(grips: readonly string[], room: number): string {
  for (let told = grips.length; told > 1; told--) {
    const rest = grips.length - told;
    const words = grips.slice(0, told).join(' · ') + (rest === 0 ? '' : ` · +${rest}`);
    if (widthMm(words, SMALL_PT) <= room) return words;
  }
  const [first = ''] = grips;
  return cut(grips.length > 1 ? `${first} · +${grips.length - 1}` : first, SMALL_PT, room);
}
