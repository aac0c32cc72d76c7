/** Tunes off the page's thread; all it does is in `tuneDesk.ts`. */
import { expose } from 'comlink';
import { TuneDesk } from './tuneDesk';

expose(new TuneDesk());
