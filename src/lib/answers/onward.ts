/** How to go on from a position: one part of the worker's program, fetched when one of these is asked. */
export { leadsFrom } from './leadsOn';
export { passageOffers, passagesFor } from './passages';
export { placePhrase } from './phrases';
