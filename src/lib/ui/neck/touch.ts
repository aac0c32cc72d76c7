/**
 * Tells a tap from a drag. A touch that sets out to scroll the page moves nothing: the bar follows
 * only once the pointer has gone along the neck, and a tap counts when it is lifted.
 */

/** Pixels that a pointer may stray and still be a tap. */
const STRAY = 6;

export interface TouchAnswers {
  /** Along the neck, in the drawing's pixels, less where on the bar it was held. */
  readonly drag: (x: number) => void;
  readonly tap: (x: number, string: number | undefined) => void;
}

export interface NeckTouch {
  readonly down: (event: PointerEvent) => void;
  readonly move: (event: PointerEvent) => void;
  readonly up: (event: PointerEvent) => void;
  readonly cancel: () => void;
}

interface Held {
  readonly pointer: number;
  readonly startX: number;
  readonly offset: number;
  readonly string: number | undefined;
  dragging: boolean;
}

/** `barX` says where the bar is, or `undefined` when the pointer is not on it. */
export function neckTouch(
  xOf: (event: PointerEvent) => number,
  barX: (event: PointerEvent) => number | undefined,
  answers: TouchAnswers,
): NeckTouch {
  let held: Held | undefined;
  return {
    down(event) {
      if (event.button !== 0 || held) return;
      const mark = (event.target as Element).closest('[data-string]')?.getAttribute('data-string');
      const bar = barX(event);
      held = {
        pointer: event.pointerId,
        startX: event.clientX,
        offset: bar === undefined ? 0 : xOf(event) - bar,
        string: mark ? Number(mark) : undefined,
        dragging: false,
      };
    },
    move(event) {
      if (event.pointerId !== held?.pointer) return;
      if (!held.dragging && Math.abs(event.clientX - held.startX) > STRAY) {
        held.dragging = true;
        (event.currentTarget as Element).setPointerCapture(event.pointerId);
      }
      if (held.dragging) answers.drag(xOf(event) - held.offset);
    },
    up(event) {
      if (event.pointerId !== held?.pointer) return;
      if (!held.dragging) answers.tap(xOf(event), held.string);
      held = undefined;
    },
    cancel() {
      held = undefined;
    },
  };
}

/** The fret a key leads to, or `undefined` where the key means nothing to the bar. */
export function fretByKey(key: string, fret: number, frets: number): number | undefined {
  const to: Readonly<Record<string, number>> = {
    ArrowRight: fret + 1,
    ArrowUp: fret + 1,
    ArrowLeft: fret - 1,
    ArrowDown: fret - 1,
    PageUp: fret + 5,
    PageDown: fret - 5,
    Home: 0,
    End: frets,
  };
  const wanted = to[key];
  return wanted === undefined ? undefined : Math.min(frets, Math.max(0, wanted));
}
