/** Weighs changes off the page's thread; all it does is in `changeDesk.ts`. */
import { expose } from 'comlink';
import { ChangeDesk } from './changeDesk';

expose(new ChangeDesk());
