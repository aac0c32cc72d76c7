import { expose } from 'comlink';

/** What a client takes for a worker that keeps this desk: it is reached by messages, as a worker is. */
export function messageWorker(desk: object): Worker {
  const { port1, port2 } = new MessageChannel();
  expose(desk, port2);
  port1.start();
  return Object.assign(port1, { terminate: () => port1.close() }) as unknown as Worker;
}
