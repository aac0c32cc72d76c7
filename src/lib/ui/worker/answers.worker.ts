/** The engine off the page's thread; all it does is in `answers/door.ts`. */
import { ask } from '$lib/answers/door';
import { answerAt } from './messages';

answerAt(self, (job, given) => ask(job as never, given as never));
