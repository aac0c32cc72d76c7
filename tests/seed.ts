/** What batteries are run by, under any test runner: whole or a slice, and the seed of all chance. */

/** Whether batteries run whole. */
export const LONG = process.env.GRIPWRIGHT_LONG === '1';

const FIXED_SEED = 20_261_126;
const given = process.env.GRIPWRIGHT_SEED;
if (given !== undefined && !/^\d{1,9}$/.test(given))
  throw new Error(
    `GRIPWRIGHT_SEED: found “${given}”; allowed is a whole number of up to nine digits.`,
  );

/** What all chance in the tests comes from. */
export const SEED = given === undefined ? FIXED_SEED : Number(given);
