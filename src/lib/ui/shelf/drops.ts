/** Files that are dropped on a page. A place that takes them says so. */

export const hasFiles = (event: DragEvent): boolean =>
  event.dataTransfer?.types.includes('Files') ?? false;

const taken = new WeakSet<Event>();

/** The place that is shown takes what is dropped. */
export const takenHere = (event: Event): void => void taken.add(event);
export const isTaken = (event: Event): boolean => taken.has(event);
