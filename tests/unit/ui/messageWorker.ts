import { expose } from 'comlink';

/** What a client takes for a worker with these answers: it is reached by messages, as a worker is. */
export function messageWorker(answers: object): Worker {
  const { port1, port2 } = new MessageChannel();
  expose(answers, port2);
  port1.start();
  return Object.assign(port1, { terminate: () => port1.close() }) as unknown as Worker;
}
