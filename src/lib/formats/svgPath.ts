/** Outlines as SVG writes them (SVG 1.1, 8.3), as steps of a drawing: straight lines and cubic curves. */
import type { PathStep } from './drawing';

/** Numbers that a command takes. */
const TAKES: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, Z: 0 };

/**
 * The steps of a path.
 *
 * @param place where a point of the path lies in the drawing
 */
export function pathSteps(
  d: string,
  place: (x: number, y: number) => readonly [number, number],
): PathStep[] {
  const tokens = d.match(/[a-zA-Z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gu) ?? [];
  const steps: PathStep[] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  /** The last handle of the curve before, for a smooth one. */
  let handle: readonly [number, number] | undefined;
  let command = '';
  let at = 0;
  const curve = (a: number, b: number, c: number, e: number, toX: number, toY: number): void => {
    steps.push(['C', ...place(a, b), ...place(c, e), ...place(toX, toY)]);
    handle = [c, e];
    [x, y] = [toX, toY];
  };
  while (at < tokens.length) {
    const token = tokens[at] ?? '';
    if (/[a-zA-Z]/u.test(token)) {
      command = token;
      at++;
    }
    const sign = command.toUpperCase();
    const count = TAKES[sign];
    if (count === undefined) throw new Error(`the path command ${command} is not drawn`);
    const isRelative = command !== sign;
    const taken = tokens.slice(at, at + count).map(Number);
    at += count;
    const ox = isRelative ? x : 0;
    const oy = isRelative ? y : 0;
    const [a = 0, b = 0, c = 0, e = 0, f = 0, g = 0] = taken;
    const smooth = handle;
    handle = undefined;
    switch (sign) {
      case 'M':
        [x, y] = [ox + a, oy + b];
        [startX, startY] = [x, y];
        steps.push(['M', ...place(x, y)]);
        // further pairs are lines
        command = isRelative ? 'l' : 'L';
        break;
      case 'L':
        [x, y] = [ox + a, oy + b];
        steps.push(['L', ...place(x, y)]);
        break;
      case 'H':
        x = ox + a;
        steps.push(['L', ...place(x, y)]);
        break;
      case 'V':
        y = oy + a;
        steps.push(['L', ...place(x, y)]);
        break;
      case 'C':
        curve(ox + a, oy + b, ox + c, oy + e, ox + f, oy + g);
        break;
      case 'S': {
        const [hx, hy] = smooth ?? [x, y];
        curve(2 * x - hx, 2 * y - hy, ox + a, oy + b, ox + c, oy + e);
        break;
      }
      case 'Q': {
        // a quadratic curve as the cubic one that is the same
        const [qx, qy, toX, toY] = [ox + a, oy + b, ox + c, oy + e];
        curve(
          x + (2 / 3) * (qx - x),
          y + (2 / 3) * (qy - y),
          toX + (2 / 3) * (qx - toX),
          toY + (2 / 3) * (qy - toY),
          toX,
          toY,
        );
        break;
      }
      default:
        steps.push(['Z']);
        [x, y] = [startX, startY];
        if (at < tokens.length && !/[a-zA-Z]/u.test(tokens[at] ?? '')) at = tokens.length;
    }
  }
  return steps;
}
