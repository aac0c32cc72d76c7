/** What songs as a measure ask: one song on two setups, plain data in, plain data out. */
export { songBetween, songOnBoth } from '$lib/coverage/songs';
