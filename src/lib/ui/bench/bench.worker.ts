/** The Bench's search off the page's thread; all it does is in `benchDesk.ts`. */
import { expose } from 'comlink';
import { BenchDesk } from './benchDesk';

expose(new BenchDesk());
