/** Where in a text something stands, as people count: lines and places from 1. */
export function placeIn(text: string, at: number): string {
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return `line ${String(line)}, place ${String(at - before.lastIndexOf('\n'))}`;
}
