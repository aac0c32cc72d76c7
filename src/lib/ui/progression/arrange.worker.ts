/** Arranging off the page's thread; all it does is in `arrangeDesk.ts`. */
import { expose } from 'comlink';
import { ArrangeDesk } from './arrangeDesk';

expose(new ArrangeDesk());
