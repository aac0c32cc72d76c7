import { createServer } from 'node:net';

/** Where the search for a port of the tests' server begins. */
const FIRST_PORT = 4317;

/** The first port from `first` up on which nothing listens. @returns {Promise<number>} */
export function freePort(first = FIRST_PORT) {
  return new Promise((done) => {
    const probe = createServer();
    probe.once('error', () => done(freePort(first + 1)));
    probe.listen(first, '127.0.0.1', () => probe.close(() => done(first)));
  });
}
