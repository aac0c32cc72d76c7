/** In which ways a sound can tell two setups apart. */
export const LISTS = ['onlyA', 'onlyB', 'easierA', 'easierB'] as const;
export type ListName = (typeof LISTS)[number];
