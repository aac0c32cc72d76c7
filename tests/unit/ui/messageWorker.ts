import { answerAt } from '$lib/ui/worker/messages';

/** What a client takes for a worker with these answers: it is reached by messages, as a worker is. */
export function messageWorker({ ask }: { readonly ask: unknown }): Worker {
  const { port1, port2 } = new MessageChannel();
  answerAt(port2, ask as Parameters<typeof answerAt>[1]);
  for (const port of [port1, port2]) port.start();
  return Object.assign(port1, { terminate: () => port1.close() }) as unknown as Worker;
}
