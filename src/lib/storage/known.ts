/** The ids and names that were known last, so that a start which finds less can say so. */
import { isRecord } from '$lib/setup/parsed';

export interface Known {
  readonly id: string;
  readonly name: string;
}

const keyOf = (kind: string): string => `gripwright-known-${kind}`;

export function knownLast(kind: string): readonly Known[] {
  try {
    const known: unknown = JSON.parse(localStorage.getItem(keyOf(kind)) ?? '[]');
    if (!Array.isArray(known)) return [];
    return known.filter(
      (each): each is Known =>
        isRecord(each) && typeof each.id === 'string' && typeof each.name === 'string',
    );
  } catch {
    // storage is shut off, or holds what we never wrote
    return [];
  }
}

export function storeKnown(kind: string, known: readonly Known[]): void {
  try {
    localStorage.setItem(keyOf(kind), JSON.stringify(known.map(({ id, name }) => ({ id, name }))));
  } catch {
    // then nothing can be said at the next start
  }
}
