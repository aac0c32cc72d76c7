/**
 * A system of staves as `abcjs` draws it, and where in it things lie. It draws into whatever takes its marks: an
 * element of the page, or `PaperSheet` where there is no page.
 */
import abcjs from 'abcjs';
import type { StaffSystem } from './staffSystems';

/** Where things lie in a drawn system, in its pixels from the left. */
export interface DrawnSystem {
  readonly width: number;
  readonly height: number;
  /** By a step's number among all. */
  readonly notes: ReadonlyMap<number, number>;
  readonly bars: readonly DrawnBar[];
}

/** A bar line; dots stand where a repeated part ends or begins. */
export interface DrawnBar {
  readonly x: number;
  readonly closes: boolean;
  readonly opens: boolean;
}

/** What is read and set of the marks that are drawn: the little that page and paper share. */
export interface DrawnMark {
  readonly textContent: string | null;
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  removeAttribute(name: string): void;
  querySelector(tag: string): DrawnMark | null;
  querySelectorAll(tag: string): Iterable<DrawnMark>;
}

/** What of an element of the drawn tune is read here. */
interface Placed {
  readonly el_type?: string;
  readonly type?: string;
  readonly abselem?: { readonly x: number; readonly w: number };
}

/** What words are measured with; the page sets them in its own face. */
const FACE = 'sans-serif';

/** Pixels of a character of bold words, more or less. */
const CHARACTER = 8;

/** Words over a bar line end with it where they would run out of the system. */
function endWithin(element: DrawnMark, width: number): void {
  const part = element.querySelector('tspan');
  const x = Number(part?.getAttribute('x') ?? element.getAttribute('x'));
  const said = (element.textContent ?? '').trim();
  if (element.getAttribute('text-anchor') === 'end') return;
  if (x + (said.length * CHARACTER) / 2 <= width) return;
  element.setAttribute('text-anchor', 'end');
  for (const each of [element, ...element.querySelectorAll('tspan')])
    each.setAttribute('x', String(width));
}

/** Points from staff to staff where they are to lie near to one another. */
const NEAR = 26;

/**
 * Draws it, in the ink of what surrounds it.
 *
 * @param isNear with less room above and between its staves
 */
export function drawStaff(into: DrawnMark, system: StaffSystem, isNear = false): DrawnSystem {
  const { width } = system;
  const [tune] = abcjs.renderAbc(into as unknown as HTMLElement, system.abc, {
    add_classes: true,
    staffwidth: width,
    paddingleft: 0,
    paddingright: 0,
    paddingtop: 0,
    // a slur may hang below the last staff
    paddingbottom: 10,
    foregroundColor: 'currentColor',
    selectTypes: false,
    ariaLabel: 'Staff',
    format: {
      annotationfont: `${FACE} 14 bold`,
      gchordfont: `${FACE} 14 bold`,
      partsfont: `${FACE} 12 box`,
      vocalfont: `${FACE} 12`,
      tripletfont: `${FACE} 11`,
      ...(isNear ? { sysstaffsep: NEAR, musicspace: 0 } : {}),
    },
  });
  const svg = into.querySelector('svg');
  const lines = (tune?.lines ?? []) as unknown as {
    readonly staff?: readonly { readonly voices: readonly (readonly Placed[])[] }[];
  }[];
  const bars = lines.flatMap(({ staff = [] }) =>
    (staff[0]?.voices[0] ?? []).flatMap(({ el_type: kind, type = '', abselem }): DrawnBar[] => {
      if (kind !== 'bar' || abselem === undefined) return [];
      const [closes, opens] = ['right', 'left'].map(
        (side) => type === `bar_${side}_repeat` || type === 'bar_dbl_repeat',
      );
      // the thick line is the last of those that end a part, and the first of one that begins it
      const x = type === 'bar_left_repeat' ? abselem.x + 2 : abselem.x + abselem.w - 1;
      return [{ x, closes: closes === true, opens: opens === true }];
    }),
  );
  const notes = new Map<number, number>();
  for (const { index, char } of system.steps) {
    const found = tune?.getElementFromChar(char) as Placed | undefined | null;
    if (found?.abselem !== undefined) notes.set(index, found.abselem.x);
  }
  const [opening] = bars;
  // a part that is repeated from the beginning of a line: strings have no clef behind which its sign would stand
  const first = opening?.opens === true && opening.x < Math.min(...notes.values()) ? 0 : undefined;
  for (const element of svg?.querySelectorAll('text') ?? []) endWithin(element, width);
  // what holds it says what it is
  svg?.removeAttribute('aria-label');
  svg?.setAttribute('role', 'presentation');
  // narrower on paper than on a wide screen
  if (svg !== null) {
    const [wide, high] = ['width', 'height'].map((name) => svg.getAttribute(name) ?? '0');
    svg.setAttribute('viewBox', `0 0 ${wide} ${high}`);
  }
  return {
    width: Number(svg?.getAttribute('width') ?? width),
    height: Number(svg?.getAttribute('height') ?? 0),
    notes,
    bars: bars.map((bar, at) => (at === 0 && first !== undefined ? { ...bar, x: first } : bar)),
  };
}
