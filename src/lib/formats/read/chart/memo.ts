/** The same few words come again and again in a chart, and in every way of cutting it up. */

const MOST = 4000;

/** A function of a text that remembers its answers, though not without end. */
export function remembered<T>(read: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  return (text) => {
    if (known.has(text)) return known.get(text) as T;
    const answer = read(text);
    if (known.size >= MOST) known.clear();
    known.set(text, answer);
    return answer;
  };
}
