/** Staff and tablature on paper: the systems drawn on a bench, and their outlines laid on pages. */
import type { Piece } from '$lib/arrange/piece';
import type { StruckStep } from '$lib/arrange/strike';
import type { Setup } from '$lib/setup/setup';
import type { ChordSigns } from '$lib/theory/chordSigns';
import {
  MM_PER_POINT,
  disc,
  line,
  text,
  box,
  type Drawing,
  type Mark,
  type Paper,
} from './drawing';
import { PaperFlow } from './paperFlow';
import { drawCode, type SheetCode } from './sheetCode';
import { staffSystems, type StaffPlan, type StaffSystem } from './staffSystems';
import { pathSteps } from './svgPath';
import type { Weight } from './type/faces';
import { widthMm } from './type/setting';
import { hasTune } from './write/musicXmlTune';
import { drawStaff, type DrawnMark } from './drawnStaff';
import { stringLabels } from './tablature';
import { endOn, tabsUnder, type TabUnder } from './tabUnder';
import { WRITTEN_OUT } from './tabForm';
import { tuneForm } from './tuneForm';

/** Everything that is written. */
export interface StaffToWrite extends Pick<StaffPlan, 'piece' | 'measures' | 'signs'> {
  readonly isWrittenOut: boolean;
  readonly tabs: readonly TabUnder[];
  readonly labels: (neck: number) => readonly string[];
}

/** The same of a piece as it is struck on a setup. */
export const staffOf = (
  setup: Setup,
  piece: Piece,
  struck: readonly StruckStep[],
  signs: ChordSigns,
): StaffToWrite => ({
  ...{ ...tuneForm(piece, struck), signs },
  tabs: tabsUnder(setup, piece, struck),
  labels: (neck) => stringLabels(setup, neck),
});

/** Pixels of a system: a measure or two more than a screen has, as print is read from nearer. */
const SYSTEM = 900;
const STRING_MM = 2.6;
const NUMBER_PT = 7.5;
/** Smaller nobody reads; then they may touch. */
const LEAST_PT = 5;
const LABEL_PT = 5.5;
const LABEL_MM = 8;
/** From a bar line to the dots of a repeat. */
const DOTS_MM = 1.5;
const BETWEEN_MM = 6;
const NEARER_MM = 1.5;

/** Figures that stand raised, as the page writes them; the faces on paper have them on the line alone. */
const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const RAISED_SIZE = 0.65;
const RAISED_BY = 0.35;

/** Words on paper, their raised figures smaller and above the line. */
function wordMarks(
  said: string,
  [x, y]: readonly [number, number],
  sizePt: number,
  weight: Weight,
  anchor: string | null,
): Mark[] {
  const parts = (said.match(new RegExp(`[${RAISED}]+|[^${RAISED}]+`, 'gu')) ?? []).map((part) => {
    const raised = RAISED.includes(part.charAt(0));
    const size = raised ? sizePt * RAISED_SIZE : sizePt;
    const letters = raised ? [...part].map((sign) => RAISED.indexOf(sign)).join('') : part;
    return { letters, raised, size, width: widthMm(letters, size, weight) };
  });
  const whole = parts.reduce((sum, { width }) => sum + width, 0);
  let at = x - (anchor === 'middle' ? whole / 2 : anchor === 'end' ? whole : 0);
  return parts.map(({ letters, raised, size, width }): Mark => {
    const lifted = raised ? sizePt * MM_PER_POINT * RAISED_BY : 0;
    const mark = text(at, y - lifted, letters, size, { weight });
    at += width;
    return mark;
  });
}

/** All marks of a drawn system, its left top corner at a point of the page. */
function marksIn(svg: DrawnMark, left: number, top: number, scale: number): Mark[] {
  const place = (x: number, y: number) => [left + x * scale, top + y * scale] as const;
  const paths = [...svg.querySelectorAll('path')].map((path): Mark => ({
    kind: 'path',
    steps: pathSteps(path.getAttribute('d') ?? '', place),
    fill: 1,
  }));
  const words = [...svg.querySelectorAll('text')].flatMap((element): Mark[] => {
    const size = Number(element.getAttribute('font-size') ?? 14);
    const anchor = element.getAttribute('text-anchor');
    const bold = element.getAttribute('font-weight') === 'bold';
    let y = Number(element.getAttribute('y') ?? 0);
    return [...element.querySelectorAll('tspan')].flatMap((part, at): Mark[] => {
      if (at > 0) y += size * Number.parseFloat(part.getAttribute('dy') ?? '1.2');
      const said = part.textContent ?? '';
      if (said.trim() === '') return [];
      const x = Number(part.getAttribute('x') ?? element.getAttribute('x') ?? 0);
      const sizePt = (size * scale) / MM_PER_POINT;
      return wordMarks(said.trim(), place(x, y), sizePt, bold ? 'bold' : 'regular', anchor);
    });
  });
  return [...paths, ...words];
}

/** The strings under a system. */
function tabMarks(
  system: StaffSystem,
  { tabs, labels }: StaffToWrite,
  where: { left: number; top: number; right: number; scale: number },
  drawn: ReturnType<typeof drawStaff>,
): readonly Mark[] {
  const { left, top, right, scale } = where;
  const names = labels(tabs[system.steps[0]?.index ?? -1]?.neck ?? 1);
  const y = (string: number): number => top + (string - 1) * STRING_MM;
  const strings = names.flatMap((name, at): Mark[] => [
    line([left, y(at + 1)], [right, y(at + 1)], undefined, 0.5),
    text(left - LABEL_MM, y(at + 1) + 0.7, name, LABEL_PT, { grey: true }),
  ]);
  const middle = y((names.length + 1) / 2);
  const bars = [{ x: 0, opens: false, closes: false }, ...drawn.bars].flatMap(
    ({ x, opens, closes }): Mark[] => {
      const at = left + x * scale;
      const dots = [...(closes ? [-DOTS_MM] : []), ...(opens ? [DOTS_MM] : [])];
      return [
        line([at, y(1)], [at, y(names.length)], dots.length > 0 ? 0.8 : undefined),
        ...dots.flatMap((aside) =>
          [-STRING_MM, STRING_MM].map((off) => disc(at + aside, middle + off, 0.45)),
        ),
      ];
    },
  );
  const numbers = system.steps.flatMap(({ index }): Mark[] => {
    const at = drawn.notes.get(index);
    if (at === undefined) return [];
    const x = left + at * scale;
    return (tabs[index]?.cells ?? []).flatMap(({ string, text: said }): Mark[] => {
      // as large as there is room to what comes next on its string, or to the bar line
      const room = left + endOn(string, at, drawn, system.steps, tabs) * scale - x - 0.6;
      const size = Math.max(
        LEAST_PT,
        NUMBER_PT * Math.min(1, room / widthMm(said, NUMBER_PT, 'bold')),
      );
      return [
        box(x - 0.2, y(string) - 1.2, widthMm(said, size, 'bold') + 0.4, 2.4, 0),
        text(x, y(string) + (0.95 * size) / NUMBER_PT, said, size, { weight: 'bold' }),
      ];
    });
  });
  return [...strings, ...bars, ...numbers];
}

/**
 * The whole tune on pages; each system is drawn on the bench before it is laid on its page. Nearer to one another where
 * that spares a page.
 */
export function staffDrawing(
  tune: StaffToWrite,
  paper: Paper,
  bench: DrawnMark,
  code?: SheetCode,
): Drawing {
  const usual = drawnWith(tune, paper, bench, code, BETWEEN_MM);
  if (usual.pages.length === 1) return usual;
  const nearer = drawnWith(tune, paper, bench, code, NEARER_MM);
  return nearer.pages.length < usual.pages.length ? nearer : usual;
}

function drawnWith(
  tune: StaffToWrite,
  paper: Paper,
  bench: DrawnMark,
  code: SheetCode | undefined,
  between: number,
): Drawing {
  const { piece, tabs } = tune;
  const title = piece.title ?? (hasTune(piece) ? 'Tune' : 'Chords');
  const flow = new PaperFlow(title, paper, false);
  const scale = (flow.span - LABEL_MM) / SYSTEM;
  flow.words(title, 16, { weight: 'bold' });
  flow.skip(3);
  const systems = staffSystems({
    ...tune,
    width: SYSTEM,
    widthOf: (index) => ((tabs[index]?.widest ?? 1) * 1.5 + 1.5) / scale,
  });
  for (const system of systems) {
    const drawn = drawStaff(bench, system);
    const svg = bench.querySelector('svg');
    if (svg === null) continue;
    const strings = tune.labels(tabs[system.steps[0]?.index ?? -1]?.neck ?? 1).length;
    const staffMm = drawn.height * scale;
    flow.need(staffMm + strings * STRING_MM + between);
    const left = flow.left + LABEL_MM;
    const top = flow.y + staffMm + 2;
    flow.add(
      ...marksIn(svg, left, flow.y, scale),
      ...tabMarks(system, tune, { left, top, right: left + system.width * scale, scale }, drawn),
    );
    flow.y += staffMm + 2 + strings * STRING_MM + between;
  }
  if (tune.isWrittenOut) flow.words(WRITTEN_OUT, 7.5);
  if (code !== undefined) drawCode(flow, code);
  return flow.drawing();
}
