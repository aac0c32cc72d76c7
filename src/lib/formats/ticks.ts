/** Ticks of a quarter note: every division by 2 to 16 comes out whole. */
export const TICKS = 720_720;
