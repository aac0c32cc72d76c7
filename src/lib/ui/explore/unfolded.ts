/** What opens in the column beside the rows, or in the sheet that it is on a phone, is brought into view. */

/** A fold that grows by less than this in pixels, as by a line that is told in it, stays where it is. */
const MUCH = 80;

/**
 * Scrolls a column as far as needed, and no farther than to a fold's own head, whenever a fold in it opens or grows much.
 *
 * @returns what lets the column be again
 */
export function showUnfolded(column: HTMLElement): () => void {
  const heights = new WeakMap<Element, number>();
  const growth = new ResizeObserver((entries) => {
    for (const { target } of entries) {
      const fold = target.getBoundingClientRect();
      const before = heights.get(target) ?? 0;
      heights.set(target, fold.height);
      const view = column.getBoundingClientRect();
      if (fold.height - before > MUCH && fold.bottom > view.bottom)
        column.scrollTop += Math.min(fold.top - view.top, fold.bottom - view.bottom);
    }
  });
  const toggled = ({ target }: Event): void => {
    if (!(target instanceof HTMLDetailsElement)) return;
    heights.delete(target);
    if (target.open) growth.observe(target);
    else growth.unobserve(target);
  };
  // a fold's toggle does not bubble
  column.addEventListener('toggle', toggled, true);
  return () => {
    column.removeEventListener('toggle', toggled, true);
    growth.disconnect();
  };
}
