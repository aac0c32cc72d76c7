/** A setup that was read from a chart, as the tables that show it; what is doubtful is marked. */
import { copedentOf, semitonesIn } from '$lib/setup/copedent';
import { gaugeText } from '$lib/setup/gaugeText';
import type { Setup } from '$lib/setup/setup';
import { prettyPitch, spokenPitch } from '$lib/theory/display';
import type { Doubt } from '$lib/formats/read/chart/doubts';

/** How sure a cell is: to be settled still, settled, or without a doubt. */
export type Sureness = 'open' | 'told' | 'sure';

export interface ReadNeck {
  readonly name: string;
  readonly hasGauges: boolean;
  readonly heads: readonly {
    readonly id: string;
    readonly station: string;
    readonly sure: Sureness;
  }[];
  readonly rows: readonly {
    readonly number: number;
    readonly open: string;
    readonly spoken: string;
    readonly openSure: Sureness;
    readonly gauge: string;
    readonly cells: readonly { readonly text: string; readonly sure: Sureness }[];
  }[];
}

/** The tables of a setup, neck by neck, the columns those that do something there. */
export function readNecks(setup: Setup, doubts: readonly Doubt[]): ReadNeck[] {
  const sureness = (holds: (doubt: Doubt) => boolean): Sureness => {
    const about = doubts.filter(holds);
    if (about.length === 0) return 'sure';
    return about.some(({ choices, isSettled }) => choices.length > 0 && !isSettled)
      ? 'open'
      : 'told';
  };
  return setup.necks.map((neck, index): ReadNeck => {
    const number = index + 1;
    const used = setup.controls.filter(
      ({ pulls }) =>
        pulls.some((pull) => pull.neck === number) || (number === 1 && pulls.length === 0),
    );
    const { rows, columns } = copedentOf(
      setup,
      number,
      used.map(({ station }) => station),
    );
    return {
      name: neck.name,
      hasGauges: neck.strings.some(({ gauge }) => gauge !== undefined),
      heads: columns.map(({ control, station }) => ({
        id: control?.id ?? station,
        station,
        sure: sureness(({ about }) => about.control === control?.id && about.string === undefined),
      })),
      rows: rows.map(({ number: string, string: { open, ...wire }, cells }) => ({
        number: string,
        open: prettyPitch(open),
        spoken: spokenPitch(open),
        openSure: sureness(({ about }) => about.neck === number && about.string === undefined),
        gauge: gaugeText(wire),
        cells: cells.map((cell, column) => ({
          text: semitonesIn(cell),
          sure: sureness(
            ({ about }) =>
              about.neck === number &&
              about.string === string &&
              about.control === columns[column]?.control?.id,
          ),
        })),
      })),
    };
  });
}
