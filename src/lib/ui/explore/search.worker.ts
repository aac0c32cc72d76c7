/** The search off the page's thread; all it does is in `searchDesk.ts`. */
import { expose } from 'comlink';
import { SearchDesk } from './searchDesk';

expose(new SearchDesk());
