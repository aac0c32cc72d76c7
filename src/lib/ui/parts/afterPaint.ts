/**
 * Does something in a task of its own once what has changed so far is on the screen: drawn in one
 * task, much of it keeps a finger waiting on a slow device for longer than it is patient.
 *
 * @returns what calls it off
 */
export function afterPaint(then: () => void): () => void {
  let task: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => (task = setTimeout(then)));
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(task);
  };
}
