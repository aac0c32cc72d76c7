export { PLACES } from '../../scripts/lib/places.mjs';
