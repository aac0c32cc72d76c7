/** In which ways a change tells on a voicing, and the lists that are made of them. */
export const KINDS = ['gained', 'lost', 'easier', 'harder'] as const;
export type ChangeKind = (typeof KINDS)[number];

/** A list of changed voicings, or of all that can be played after the change. */
export type ListName = ChangeKind | 'all';
/** Every list, in the order in which they are shown. */
export const LISTS: readonly ListName[] = [...KINDS, 'all'];
