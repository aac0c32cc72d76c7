/** Comparing off the page's thread; all it does is in `compareDesk.ts`. */
import { expose } from 'comlink';
import { CompareDesk } from './compareDesk';

expose(new CompareDesk());
