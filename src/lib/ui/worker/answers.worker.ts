/** The engine off the page's thread; all it does is in `answers/door.ts`. */
import { expose } from 'comlink';
import { ask } from '$lib/answers/door';

expose({ ask });
