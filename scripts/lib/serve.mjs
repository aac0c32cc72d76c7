import { createServer } from 'node:http';
import { resolve } from 'node:path';
import send from 'send';

/** Files in here carry a hash of their content in their name. */
const IMMUTABLE = '/_app/immutable/';

/**
 * Serves a folder of built files on 127.0.0.1 and gives the running server. A port that is taken
 * or not allowed makes the promise fail with the system's error.
 *
 * @param {string} folder
 * @param {number} port
 * @returns {Promise<import('node:http').Server>}
 */
export function serve(folder, port) {
  const home = resolve(folder);
  const server = createServer((request, response) => answer(home, request, response));
  return new Promise((done, failed) => {
    server.once('error', failed);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', failed);
      done(server);
    });
  });
}

/**
 * Serves on the given port, or on the first free one from `first` up.
 *
 * @param {string} folder
 * @param {number} first
 */
export async function serveOnFreePort(folder, first) {
  for (let port = first; port < first + 100; port += 1) {
    try {
      return { server: await serve(folder, port), port };
    } catch (error) {
      if (/** @type {NodeJS.ErrnoException} */ (error).code !== 'EADDRINUSE') throw error;
    }
  }
  throw new Error(`every port from ${first} to ${first + 99} is taken`);
}

/** Why a site could not be served, as a sentence. @param {unknown} error @param {string | number} port */
export function whyNot(error, port) {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'EADDRINUSE') return `Port ${port} is taken by another program.`;
  if (code === 'EACCES') return `This system does not allow a site to be served on port ${port}.`;
  return `The site cannot be served on port ${port}: ${String(error)}.`;
}

/** Ends the program cleanly on Ctrl-C or when asked to stop. @param {import('node:http').Server} server */
export function stopOnSignal(server) {
  for (const signal of ['SIGINT', 'SIGTERM']) {
    process.once(signal, () => {
      server.close(() => process.exit(0));
      server.closeAllConnections();
    });
  }
}

/**
 * Answers one request. What there is no file for gets the page for lost ways, whatever the system
 * says of the path: too long, a folder that is a file, out of the folder.
 *
 * @param {string} home
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
function answer(home, request, response) {
  const { method, url = '/' } = request;
  if (method !== 'GET' && method !== 'HEAD') {
    response.writeHead(405, { allow: 'GET, HEAD' }).end();
    return;
  }
  const at = url.indexOf('?');
  const path = at < 0 ? url : url.slice(0, at);
  const query = at < 0 ? '' : url.slice(at);
  const lost = () => {
    response.statusCode = 404;
    file(home, '/404.html', request, response)
      .on('error', () => {
        response.setHeader('content-type', 'text/plain; charset=utf-8');
        response.end('Not found.\n');
      })
      .pipe(response);
  };
  file(home, path, request, response)
    .on('directory', () => {
      // the page's own relative addresses need the slash; what is asked for stays as it is
      response.writeHead(308, { location: `${path.replace(/^\/+/u, '/')}/${query}` }).end();
    })
    .on('error', ({ status }) => {
      if (response.headersSent) response.destroy();
      else if (status === 400 || status === 412 || status === 416) response.writeHead(status).end();
      else lost();
    })
    .pipe(response);
}

/**
 * A file on its way, under a path of the site; nothing is sent before it is piped.
 *
 * @param {string} home
 * @param {string} path as it stands in the address
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
function file(home, path, request, response) {
  const stream = send(request, path, {
    root: home,
    extensions: ['html'],
    dotfiles: 'allow',
    cacheControl: false,
  });
  stream.on('headers', () => {
    const forever = path.startsWith(IMMUTABLE) && response.statusCode === 200;
    const keep = forever ? 'public, max-age=31536000, immutable' : 'no-cache';
    response.setHeader('cache-control', keep);
    response.setHeader('x-content-type-options', 'nosniff');
  });
  return stream;
}
