/** Explore as its page sets it up, apart from drawing: what it asks, finds, holds, says and writes. */
import { BUILT_IN_IDS, builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { spelledBy } from '$lib/setup/spelledBy';
import { fieldFaultText } from '$lib/ui/explore/fieldFault';
import type { QuestionPart } from '$lib/answers/question';
import { addressText, readAddress } from '$lib/ui/explore/address';
import { Explore } from '$lib/ui/explore/explore.svelte';
import type { KnownSetups } from '$lib/ui/explore/needs';
import type { Entry } from '$lib/ui/kit/addressBar';
import { heardView, type HeardView } from '$lib/ui/explore/heardView';
import { rowView, type RowView } from '$lib/ui/explore/rowView';
import { searching } from './answering';

/** The setups that come with the program, and no others. */
const SHELF: KnownSetups = {
  get: (id) => (isBuiltInId(id) ? builtIn(id) : undefined),
  find: (id) => Promise.resolve(isBuiltInId(id) ? builtIn(id) : undefined),
  unknown: (id) => `There is no setup “${id}” among ${BUILT_IN_IDS.length}.`,
};

export class Exploring {
  readonly written: { readonly text: string; readonly entry: Entry }[] = [];
  readonly explore = new Explore(searching(), SHELF, (address, entry) => {
    this.written.push({ text: addressText(address), entry });
  });

  /** The address that was written last. */
  get address(): string {
    return this.written.at(-1)?.text ?? '';
  }
  /** The first row of every position that is listed. */
  get rows(): RowView[] {
    const { found, setup } = this.explore;
    const { findings } = this.explore.list;
    if (found === undefined) return [];
    return (findings?.positions ?? []).flatMap((rows) =>
      rows.slice(0, 1).map((row) => rowView(setup, found, row)),
    );
  }
  /** Every grip of every position that is listed. */
  get allRows(): RowView[] {
    const { found, setup } = this.explore;
    const { findings } = this.explore.list;
    if (found === undefined) return [];
    return (findings?.positions ?? []).flat().map((row) => rowView(setup, found, row));
  }
  get names(): string[] {
    return this.rows.map(({ spoken }) => spoken);
  }
  get allNames(): string[] {
    return this.allRows.map(({ spoken }) => spoken);
  }
  /** The row that is held, in words. */
  get current(): string | undefined {
    const { found, setup } = this.explore;
    const { row } = this.explore.list;
    return row && found && rowView(setup, found, row).spoken;
  }
  /** The words about what sounds. */
  get heard(): HeardView {
    const { sound, reference, setup, hold, key, found } = this.explore;
    const { row } = this.explore.list;
    return heardView(
      sound,
      reference,
      spelledBy(setup.necks[hold.neck - 1], key),
      row && found ? { chord: found, missing: row.voicing.missing } : undefined,
    );
  }
  /** What is said beside the field of a part of the question. */
  fault(part: QuestionPart): string | undefined {
    const fault = this.explore.faults.find(({ path }) => path === part);
    return fault && fieldFaultText(fault);
  }
}

/** A page that has opened an address and has its answer. */
export async function exploring(address = ''): Promise<Exploring> {
  const opened = new Exploring();
  await opened.explore.open(readAddress(new URLSearchParams(address)));
  return opened;
}

const ABOVE_C: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** Semitones of a note as it is written, `C♯4`, above C0. */
function height(note: string): number {
  const [, letter = '', sign = '', octave = ''] = /^([A-G])([♯♭]?)(\d)$/u.exec(note) ?? [];
  return 12 * Number(octave) + (ABOVE_C[letter] ?? NaN) + ({ '♯': 1, '♭': -1 }[sign] ?? 0);
}

/** Notes of a row, which stand in the order of the strings, from the lowest to the highest. */
export const lowToHigh = (notes: readonly string[]): string[] =>
  [...notes].sort((a, b) => height(a) - height(b));

/** `C♯4` without its octave. */
export const nameOf = (note: string): string => note.replace(/\d/u, '');
