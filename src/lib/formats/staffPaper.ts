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
  type PathStep,
} from './drawing';
import { PaperFlow } from './paperFlow';
import { codeMm, drawCode, type SheetCode } from './sheetCode';
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
  /** What it is played on, by name. */
  readonly setup: string;
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
  ...{ ...tuneForm(piece, struck), signs, setup: setup.name },
  tabs: tabsUnder(setup, piece, struck),
  labels: (neck) => stringLabels(setup, neck),
});

/** How much stands on a page. */
interface Setting {
  /** Pixels of a system: a measure or two more than a screen has, as print is read from nearer. */
  readonly pixels: number;
  /** From string to string, and below a system. */
  readonly stringMm: number;
  readonly betweenMm: number;
  /** From staff to staff, as the drawing has it or nearer. */
  readonly isNear: boolean;
  /** The code stands beside the title instead of at the end. */
  readonly isCodeAbove?: boolean;
}
const USUAL: Setting = { pixels: 900, stringMm: 2.6, betweenMm: 6, isNear: false };
const NEARER: Setting = { ...USUAL, betweenMm: 2.5, isNear: true };
/**
 * For what has room on one page so and else would not, smaller and smaller, down to staves of 4.5 mm; then with the
 * code beside the title.
 */
const SMALLER: readonly Setting[] = [
  { pixels: 980, stringMm: 2.45, betweenMm: 2.5, isNear: true },
  { pixels: 1060, stringMm: 2.3, betweenMm: 2, isNear: true },
  { pixels: 1140, stringMm: 2.2, betweenMm: 1.5, isNear: true },
  { pixels: 1140, stringMm: 2.2, betweenMm: 1.5, isNear: true, isCodeAbove: true },
];
const SMALLEST: Setting = { ...(SMALLER[3] as Setting), pixels: 1180, stringMm: 2.1 };
const TITLE_PT = 16;
/** The share of a line that a title may take with a code beside it. */
const TITLE_SHARE = 0.6;
const NUMBER_PT = 7.5;
/** Smaller nobody reads; then they may touch. */
const LEAST_PT = 5;
const LABEL_PT = 5.5;
const LABEL_MM = 8;
const LEGEND_PT = 7.5;
const STROKE_MM = 0.2;
/** From a bar line to the dots of a repeat. */
const DOTS_MM = 1.5;
/** From a system to its strings. */
const UNDER_MM = 1.5;

/** Figures that stand raised, as the page writes them; the faces on paper have them on the line alone. */
const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const RAISED_SIZE = 0.65;
const RAISED_BY = 0.35;

/** Strokes as lines: brackets of endings and of tuplets, which have no outline. */
function strokeMarks(steps: readonly PathStep[]): Mark[] {
  let from: readonly [number, number] = [0, 0];
  return steps.flatMap((step): Mark[] => {
    if (step[0] !== 'M' && step[0] !== 'L') return [];
    const to = [step[1], step[2]] as const;
    const marks = step[0] === 'L' ? [line(from, to, STROKE_MM)] : [];
    from = to;
    return marks;
  });
}

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
  const paths = [...svg.querySelectorAll('path')].flatMap((path): Mark[] => {
    const steps = pathSteps(path.getAttribute('d') ?? '', place);
    const isStroke = steps.every(([sign]) => sign === 'M' || sign === 'L');
    return isStroke ? strokeMarks(steps) : [{ kind: 'path', steps, fill: 1 }];
  });
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
  where: { left: number; top: number; right: number; scale: number; stringMm: number },
  drawn: ReturnType<typeof drawStaff>,
): readonly Mark[] {
  const { left, top, right, scale, stringMm } = where;
  const names = labels(tabs[system.steps[0]?.index ?? -1]?.neck ?? 1);
  const y = (string: number): number => top + (string - 1) * stringMm;
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
          [-stringMm, stringMm].map((off) => disc(at + aside, middle + off, 0.45)),
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

/** What the signs at numbers mean. */
const SIGNS = [
  [/^\//u, '/ and \\: the bar slides.'],
  [/^\\/u, '/ and \\: the bar slides.'],
  [/^~/u, '~: a control moves the string as it rings.'],
  [/^\(/u, 'In brackets: the string rings on.'],
] as const;

/** What is to be known for reading the numbers that there are. */
function legendOf(tabs: readonly TabUnder[]): string {
  const all = tabs.flatMap(({ cells }) => cells.map(({ text: said }) => said));
  const told = SIGNS.filter(([sign]) => all.some((said) => sign.test(said))).map(
    ([, words]) => words,
  );
  const first = 'Numbers are frets, with the controls that move the string beside them.';
  return [first, ...new Set(told)].join(' ');
}

/**
 * The whole tune on pages; each system is drawn on the bench before it is laid on its page. Nearer to one another where
 * that spares a page, and somewhat smaller, or with the code beside the title, where it then has room on one.
 */
export function staffDrawing(
  tune: StaffToWrite,
  paper: Paper,
  bench: DrawnMark,
  code?: SheetCode,
): Drawing {
  const usual = drawnWith(tune, paper, bench, code, USUAL);
  if (usual.pages.length === 1) return usual;
  const nearer = drawnWith(tune, paper, bench, code, NEARER);
  if (nearer.pages.length !== 2) return nearer.pages.length < usual.pages.length ? nearer : usual;
  // what has no room so has none in any other way
  const smallest = drawnWith(tune, paper, bench, code, SMALLEST);
  if (smallest.pages.length === 1) {
    for (const smaller of SMALLER) {
      const drawn = drawnWith(tune, paper, bench, code, smaller);
      if (drawn.pages.length === 1) return drawn;
    }
    return smallest;
  }
  return nearer.pages.length < usual.pages.length ? nearer : usual;
}

function drawnWith(
  tune: StaffToWrite,
  paper: Paper,
  bench: DrawnMark,
  code: SheetCode | undefined,
  { pixels, stringMm, betweenMm, isNear, isCodeAbove = false }: Setting,
): Drawing {
  const { piece, tabs } = tune;
  const title = piece.title ?? (hasTune(piece) ? 'Tune' : 'Chords');
  const flow = new PaperFlow(title, paper, false);
  const scale = (flow.span - LABEL_MM) / pixels;
  const above =
    isCodeAbove && widthMm(title, TITLE_PT, 'bold') < TITLE_SHARE * flow.span ? code : undefined;
  if (above === undefined) {
    flow.words(title, TITLE_PT, { weight: 'bold' });
    flow.words(tune.setup, 8.5, { grey: true });
  } else drawCode(flow, above, [{ heading: title, paragraphs: [tune.setup], sizePt: TITLE_PT }]);
  flow.skip(1.5);
  const systems = staffSystems({
    ...tune,
    width: pixels,
    widthOf: (index) => ((tabs[index]?.widest ?? 1) * 1.5 + 1.5) / scale,
  });
  const legend = legendOf(tabs);
  // what stands at the end does not stand on a page alone
  const endMm =
    (tune.isWrittenOut ? flow.heightOf(WRITTEN_OUT, LEGEND_PT) : 0) +
    flow.heightOf(legend, LEGEND_PT) +
    (code === undefined || above !== undefined ? 0 : codeMm(flow, code));
  for (const [order, system] of systems.entries()) {
    const drawn = drawStaff(bench, system, isNear);
    const svg = bench.querySelector('svg');
    if (svg === null) continue;
    const strings = tune.labels(tabs[system.steps[0]?.index ?? -1]?.neck ?? 1).length;
    const staffMm = drawn.height * scale + UNDER_MM;
    const ownMm = staffMm + strings * stringMm + betweenMm;
    flow.need(order < systems.length - 1 ? ownMm : ownMm + endMm);
    const left = flow.left + LABEL_MM;
    const right = left + system.width * scale;
    const where = { left, top: flow.y + staffMm, right, scale, stringMm };
    flow.add(...marksIn(svg, left, flow.y, scale), ...tabMarks(system, tune, where, drawn));
    flow.y += ownMm;
  }
  if (tune.isWrittenOut) flow.words(WRITTEN_OUT, LEGEND_PT);
  flow.words(legend, LEGEND_PT, { grey: true });
  if (code !== undefined && above === undefined) drawCode(flow, code);
  return flow.drawing();
}
