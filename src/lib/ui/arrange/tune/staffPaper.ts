/** Staff and tablature on paper: the systems drawn out of sight, and their outlines laid on pages. */
import { line, text, box, type Drawing, type Mark, type Paper } from '$lib/formats/drawing';
import { PaperFlow } from '$lib/formats/paperFlow';
import { staffSystems, type StaffPlan, type StaffSystem } from '$lib/formats/staffSystems';
import { pathSteps } from '$lib/formats/svgPath';
import { drawStaff } from './drawStaff';
import type { TabUnder } from './tabUnder';

/** Everything that is written. */
export interface StaffToWrite extends Pick<StaffPlan, 'piece' | 'measures' | 'signs'> {
  readonly tabs: readonly TabUnder[];
  readonly labels: (neck: number) => readonly string[];
}

/** Pixels of a system: a measure or two more than a screen has, as print is read from nearer. */
const SYSTEM = 900;
const STRING_MM = 2.6;
const NUMBER_PT = 7.5;
const LABEL_PT = 5.5;
const LABEL_MM = 8;
const BETWEEN_MM = 6;

/** All marks of a drawn system, its left top corner at a point of the page. */
function marksIn(svg: SVGSVGElement, left: number, top: number, scale: number): Mark[] {
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
      return [
        text(...place(x, y), said.trim(), size * scale * (72 / 25.4), {
          weight: bold ? 'bold' : 'regular',
          align: anchor === 'middle' ? 'middle' : anchor === 'end' ? 'end' : 'start',
        }),
      ];
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
    line([left + LABEL_MM, y(at + 1)], [right, y(at + 1)], undefined, 0.5),
    text(left, y(at + 1) + 0.7, name, LABEL_PT, { grey: true }),
  ]);
  const bars = [LABEL_MM / scale, ...drawn.bars].map((x) =>
    line([left + x * scale, y(1)], [left + x * scale, y(names.length)]),
  );
  const numbers = system.steps.flatMap(({ index }): Mark[] => {
    const at = drawn.notes.get(index);
    if (at === undefined) return [];
    const x = left + at * scale;
    return (tabs[index]?.cells ?? []).flatMap(({ string, text: said }): Mark[] => [
      box(x - 0.2, y(string) - 1.2, said.length * 1.5 + 0.4, 2.4, 0),
      text(x, y(string) + 0.95, said, NUMBER_PT, { weight: 'bold' }),
    ]);
  });
  return [...strings, ...bars, ...numbers];
}

/** The whole tune on pages. To be called in the page, which measures what it draws. */
export function staffDrawing(tune: StaffToWrite, paper: Paper): Drawing {
  const { piece, tabs } = tune;
  const title = piece.title ?? 'Tune';
  const flow = new PaperFlow(title, paper, false);
  const scale = flow.span / SYSTEM;
  flow.words(title, 16, { weight: 'bold' });
  flow.skip(3);
  const systems = staffSystems({
    ...tune,
    width: SYSTEM,
    widthOf: (index) => ((tabs[index]?.widest ?? 1) * 1.5 + 1.5) / scale,
  });
  const bench = document.createElement('div');
  bench.style.cssText = 'position:absolute;left:-9999px;top:0;visibility:hidden';
  document.body.append(bench);
  try {
    for (const system of systems) {
      const drawn = drawStaff(bench, system, SYSTEM);
      const svg = bench.querySelector('svg');
      if (svg === null) continue;
      const strings = tune.labels(tabs[system.steps[0]?.index ?? -1]?.neck ?? 1).length;
      const staffMm = drawn.height * scale;
      flow.need(staffMm + strings * STRING_MM + BETWEEN_MM);
      const top = flow.y + staffMm + 2;
      flow.add(
        ...marksIn(svg, flow.left, flow.y, scale),
        ...tabMarks(system, tune, { left: flow.left, top, right: flow.right, scale }, drawn),
      );
      flow.y += staffMm + 2 + strings * STRING_MM + BETWEEN_MM;
    }
  } finally {
    bench.remove();
  }
  return flow.drawing();
}
