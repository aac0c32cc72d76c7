/** Every place of the program, as the part of an address after the site's own. */
export const PLACES = /** @type {const} */ ([
  '',
  '?view=atlas',
  'change/',
  'compare/',
  'practice/',
  'arrange/',
  'arrange/kept/',
  'bench/',
  'bench/read/',
  'bench/setups/',
  'bench/strings/',
  'bench/rig/',
  'bench/tuning/',
  'sheet/?setup=e9',
  'book/?setup=lap6-c6',
  'open/',
]);
