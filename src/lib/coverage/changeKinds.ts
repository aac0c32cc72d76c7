/**
 * In which ways a change tells on a voicing, and the lists that are made of them, in the order in which they
 * are shown: what a player has already and gets more easily says more than what is new, which is mostly rare.
 */
export const KINDS = ['easier', 'gained', 'lost', 'harder'] as const;
export type ChangeKind = (typeof KINDS)[number];

/** A list of changed voicings, or of all that can be played after the change. */
export type ListName = ChangeKind | 'all';
/** Every list, in the same order. */
export const LISTS: readonly ListName[] = [...KINDS, 'all'];
