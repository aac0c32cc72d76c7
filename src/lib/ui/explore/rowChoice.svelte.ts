/** The rows that were found: which of them are seen, and which one is held. */
import { SvelteSet } from 'svelte/reactivity';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import type { Findings, PositionRows } from '$lib/answers/explore';
import type { Hold } from '$lib/search/hold';
import { engagedCode } from '$lib/setup/engagedText';

export interface RowPath {
  readonly position: number;
  readonly row: number;
}

export class RowChoice {
  findings = $state.raw<Findings | undefined>();
  selected = $state.raw<RowPath | undefined>();
  /** Positions whose further grips are seen. */
  readonly unfolded = new SvelteSet<number>();

  readonly row = $derived.by((): RankedVoicing | undefined => {
    const at = this.selected;
    return at && this.at(at);
  });

  /** New findings, of which nothing is held yet. */
  take(findings: Findings): void {
    this.findings = findings;
    this.unfolded.clear();
    this.selected = undefined;
  }

  /** Further positions of the same findings. */
  add(more: readonly PositionRows[]): void {
    const { findings } = this;
    if (findings !== undefined)
      this.findings = { ...findings, positions: [...findings.positions, ...more] };
  }

  at({ position, row }: RowPath): RankedVoicing | undefined {
    return this.findings?.positions[position]?.[row];
  }

  /** Every row to be seen, top to bottom: the first of each position, all of an unfolded one. */
  get seen(): RowPath[] {
    return (this.findings?.positions ?? []).flatMap((position, index) =>
      (this.unfolded.has(index) ? position : position.slice(0, 1)).map((_, row) => ({
        position: index,
        row,
      })),
    );
  }

  /** The row after or before the one that is held; the last or the first stays itself. */
  beside(by: 1 | -1): RowPath | undefined {
    const rows = this.seen;
    const { selected } = this;
    const now =
      selected === undefined
        ? -1
        : rows.findIndex(
            (each) => each.position === selected.position && each.row === selected.row,
          );
    return rows[now < 0 ? 0 : Math.max(0, Math.min(rows.length - 1, now + by))];
  }

  /** Shows the further grips of a position, or hides them; gives the row to hold where the held one is hidden. */
  unfold(position: number): RowPath | undefined {
    if (!this.unfolded.has(position)) {
      this.unfolded.add(position);
      return undefined;
    }
    this.unfolded.delete(position);
    return this.selected?.position === position && this.selected.row > 0
      ? { position, row: 0 }
      : undefined;
  }

  /** Takes the row that says what is held, unfolding its position so that it can be seen. */
  find(hold: Hold): void {
    this.selected = this.#rowOf(hold);
    if (this.selected !== undefined && this.selected.row > 0)
      this.unfolded.add(this.selected.position);
  }

  #rowOf({ neck, fret, slant, strings, engaged }: Hold): RowPath | undefined {
    const held = engagedCode(engaged);
    for (const [position, rows] of (this.findings?.positions ?? []).entries())
      for (const [row, { voicing }] of rows.entries())
        if (
          voicing.neck === neck &&
          voicing.fret === fret &&
          voicing.slant === slant &&
          voicing.strings.join() === strings.join() &&
          engagedCode(voicing.ways[0] ?? []) === held
        )
          return { position, row };
    return undefined;
  }
}
