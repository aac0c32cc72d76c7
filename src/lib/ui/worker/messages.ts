/**
 * Questions and answers between the page and a worker, by messages: each question has a number, and its
 * answer bears the same.
 */
import { callNotes, shownNames, type NoteNames } from '$lib/theory/noteNames';
import { reasonOf } from '$lib/ui/parts/reason';

/** Where messages go in and come out: a worker as the page has it, or the page as the worker has it. */
export interface MessageEnd {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', heard: (event: MessageEvent) => void): void;
}

interface Question {
  readonly number: number;
  readonly job: string;
  readonly given: readonly unknown[];
  /** How notes are called in the answer's words. */
  readonly names: NoteNames;
}

interface Answer {
  readonly number: number;
  readonly told?: unknown;
  /** Why there is no answer. */
  readonly failed?: string;
}

export type Asking = (job: string, given: readonly unknown[]) => Promise<unknown>;

/** Answers what comes in at an end, each question as soon as it is answered. */
export function answerAt(
  end: MessageEnd,
  ask: (job: string, given: readonly unknown[]) => unknown,
): void {
  const answer = async ({ number, job, given, names }: Question): Promise<void> => {
    // the page's own ends of a test have the page's choice already
    if (names !== shownNames()) callNotes(() => names);
    try {
      end.postMessage({ number, told: await ask(job, given) } satisfies Answer);
    } catch (error) {
      // what was thrown, or an answer that no message can carry
      end.postMessage({ number, failed: reasonOf(error) } satisfies Answer);
    }
  };
  end.addEventListener('message', ({ data }) => void answer(data as Question));
}

/** Asks whoever is behind an end; a question without an answer is rejected with its reason. */
export function askingAt(end: MessageEnd): Asking {
  const asked = new Map<number, (answer: Answer) => void>();
  let last = 0;
  end.addEventListener('message', ({ data }) => {
    const answer = data as Answer;
    asked.get(answer.number)?.(answer);
    asked.delete(answer.number);
  });
  return (job, given) =>
    new Promise((tell, refuse) => {
      const number = ++last;
      end.postMessage({ number, job, given, names: shownNames() } satisfies Question);
      asked.set(number, ({ told, failed }) => {
        if (failed === undefined) tell(told);
        else refuse(new Error(failed));
      });
    });
}
