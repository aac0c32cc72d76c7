/** One of several that try pulls; all it does is in `suggestDesk.ts`. */
import { expose } from 'comlink';
import { SuggestDesk } from './suggestDesk';

expose(new SuggestDesk());
