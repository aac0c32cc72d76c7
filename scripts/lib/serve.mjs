import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, resolve, sep } from 'node:path';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.md': 'text/markdown; charset=utf-8',
  '.xml': 'application/xml; charset=utf-8',
  '.png': 'image/png',
  '.jpg': 'image/jpeg',
  '.webp': 'image/webp',
  '.ico': 'image/x-icon',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.wav': 'audio/wav',
  '.mid': 'audio/midi',
  '.pdf': 'application/pdf',
};
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
 * @param {string} home
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
function answer(home, request, response) {
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.writeHead(405, { allow: 'GET, HEAD' }).end();
    return;
  }
  const url = request.url ?? '/';
  const path = readPath(url);
  if (path === undefined) {
    response.writeHead(400).end();
    return;
  }
  const found = find(home, path);
  if (found?.folder) {
    // The page's own relative addresses need the slash; what is asked for stays as it is.
    const query = url.includes('?') ? url.slice(url.indexOf('?')) : '';
    response.writeHead(308, { location: `${encodeURI(found.folder)}/${query}` }).end();
    return;
  }
  const file = found?.file ?? join(home, '404.html');
  if (!existsSync(file)) {
    response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' }).end('Not found.\n');
    return;
  }
  send(file, found ? 200 : 404, path.startsWith(IMMUTABLE), request, response);
}

/** The decoded path of an address, or nothing if it cannot be one. @param {string} url */
function readPath(url) {
  try {
    const path = decodeURIComponent(new URL(url, 'http://127.0.0.1').pathname);
    return path.includes('\0') ? undefined : path;
  } catch {
    return undefined;
  }
}

/**
 * The file for a path: itself, the page of that name, or the index of the folder.
 *
 * @param {string} home
 * @param {string} path
 * @returns {{ file?: string, folder?: string } | undefined}
 */
function find(home, path) {
  const file = resolve(home, `.${sep}${path}`);
  if (file !== home && !file.startsWith(home + sep)) return undefined;
  if (path.endsWith('/')) {
    const index = join(file, 'index.html');
    return isFile(index) ? { file: index } : undefined;
  }
  if (isFile(file)) return { file };
  if (isFile(`${file}.html`)) return { file: `${file}.html` };
  if (isFile(join(file, 'index.html'))) return { folder: path.replace(/^\/+/, '/') };
  return undefined;
}

/** @param {string} path */
function isFile(path) {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}

/**
 * @param {string} file
 * @param {number} status
 * @param {boolean} forever
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
function send(file, status, forever, request, response) {
  const { size, mtimeMs } = statSync(file);
  const etag = `"${size.toString(16)}-${Math.trunc(mtimeMs).toString(16)}"`;
  const type = TYPES[/** @type {keyof typeof TYPES} */ (extname(file).toLowerCase())];
  const headers = {
    'content-type': type ?? 'application/octet-stream',
    'cache-control': forever && status === 200 ? 'public, max-age=31536000, immutable' : 'no-cache',
    'x-content-type-options': 'nosniff',
    etag,
  };
  if (status === 200 && request.headers['if-none-match'] === etag) {
    response.writeHead(304, headers).end();
    return;
  }
  response.writeHead(status, { ...headers, 'content-length': size });
  if (request.method === 'HEAD') {
    response.end();
    return;
  }
  createReadStream(file)
    .on('error', () => response.destroy())
    .pipe(response);
}
