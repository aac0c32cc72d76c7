/** What was dropped or pasted on the Bench, on its way to where charts are read. */

export type Handed = { readonly file: File } | { readonly text: string };

let waiting: Handed | undefined;

export const handOver = (chart: Handed): void => {
  waiting = chart;
};

/** What was handed over, once. */
export function handedOver(): Handed | undefined {
  const chart = waiting;
  waiting = undefined;
  return chart;
}
