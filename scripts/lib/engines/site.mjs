// The built program on a site of the check's own, which can go away and come back.
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inRoot } from '../root.mjs';
import { serve, serveOnFreePort } from '../serve.mjs';

/** How many characters of one word of the page are kept. */
const MOST = 400;

/**
 * What is laid into every page, before anything of its own: it keeps what goes wrong, and how often the page asks to be
 * printed, over all pages of a tab. No driver of WebKit tells what is written to the console.
 */
const LISTENER = `(() => {
  const keep = (name, value) => {
    const kept = JSON.parse(sessionStorage.getItem(name) ?? '[]');
    sessionStorage.setItem(name, JSON.stringify([...kept, String(value).slice(0, ${MOST})]));
  };
  let leaving = false;
  addEventListener('beforeunload', () => (leaving = true));
  // what a page that is left was still fetching does not come
  const wrong = (text) => leaving || keep('check-wrong', text + ' (' + location.pathname + location.search + ')');
  addEventListener('error', ({ message, target }) => {
    // Firefox says so of each module that was fetched another way meanwhile; what is really missing is a rejection
    if (target.rel === 'modulepreload') return;
    // what did not come to be told in this frame is told in the next one
    if (message?.startsWith('ResizeObserver loop')) return;
    wrong(message ?? 'not loaded: ' + (target.src ?? target.href));
  }, true);
  addEventListener('unhandledrejection', ({ reason }) => wrong('rejected: ' + reason));
  addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => wrong('against ' + violatedDirective + ': ' + blockedURI));
  for (const level of ['error', 'warn']) {
    const before = console[level];
    console[level] = (...words) => {
      wrong(level + ': ' + words.join(' '));
      before.apply(console, words);
    };
  }
  window.print = () => keep('check-printed', location.pathname);
})();`;

export class Site {
  #folder = mkdtempSync(join(tmpdir(), 'gripwright-engines-'));
  /** @type {import('node:http').Server | undefined} */
  #server;
  #port = 0;

  constructor() {
    cpSync(inRoot('build'), this.#folder, { recursive: true });
    writeFileSync(join(this.#folder, 'listener.js'), LISTENER);
    for (const name of readdirSync(this.#folder, { recursive: true, encoding: 'utf8' })) {
      if (!name.endsWith('.html')) continue;
      const path = join(this.#folder, name);
      // from the top, since a page of a lost way is served under any address
      const script = '<script src="/listener.js"></script>';
      writeFileSync(
        path,
        readFileSync(path, 'utf8').replace(/<\/title>|<meta name="referrer"/u, `${script}$&`),
      );
    }
  }
  get address() {
    return `http://127.0.0.1:${this.#port}/`;
  }
  async up() {
    if (this.#server !== undefined) return;
    if (this.#port === 0) {
      const { server, port } = await serveOnFreePort(this.#folder, 4570);
      this.#server = server;
      this.#port = port;
    } else this.#server = await serve(this.#folder, this.#port);
  }
  async cut() {
    const server = this.#server;
    this.#server = undefined;
    if (server === undefined) return;
    await new Promise((done) => {
      server.close(done);
      server.closeAllConnections();
    });
  }
  async end() {
    await this.cut();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
