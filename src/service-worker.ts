/**
 * Keeps the whole program on the device, so that it starts and works without a network. What a
 * version consists of is fetched once, when that version is new, and answered from here ever after;
 * the next version waits until the player takes it.
 */
/// <reference no-default-lib="true"/>
/// <reference lib="esnext" />
/// <reference lib="webworker" />
/// <reference types="@sveltejs/kit" />
import { base, build, files, prerendered, version } from '$service-worker';
import { TAKE_OVER } from '$lib/ui/parts/takeOver';
import { layDown } from '$lib/ui/shelf/handedFiles';

const worker = globalThis as unknown as ServiceWorkerGlobalScope;

const PREFIX = 'gripwright-';
const CACHE = `${PREFIX}${version}`;
/** Pages last: whoever finds one finds all it is made of. */
const WHOLE = [...build, ...files, ...prerendered];

/** Names of the parts in the script of a worker: `import("./chunks/x.js")`, `import"./y.js"`. */
const PARTS = /["'`](\.{1,2}\/[\w./-]+\.js)["'`]/gu;

/**
 * Stores a file and, where it is the script of a worker, the parts that it names: the list of what is
 * built names the workers themselves alone.
 */
async function store(cache: Cache, path: string, stored: Set<string>): Promise<void> {
  if (stored.has(path)) return;
  stored.add(path);
  // not from the browser's own store, which may hold pages of the version before
  const answer = await fetch(path, { cache: 'reload' });
  if (!answer.ok) throw new TypeError(`${path}: ${answer.status}`);
  const script = path.includes('/workers/') ? await answer.clone().text() : '';
  await cache.put(path, answer);
  const here = new URL(path, worker.location.href);
  const parts = [...script.matchAll(PARTS)].map(([, part = '']) => new URL(part, here).pathname);
  await Promise.all(parts.map((part) => store(cache, part, stored)));
}

worker.addEventListener('install', (event) => {
  event.waitUntil(
    caches.open(CACHE).then((cache) => {
      const stored = new Set<string>();
      return Promise.all(WHOLE.map((path) => store(cache, path, stored)));
    }),
  );
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      const stored = (await caches.keys()).filter((name) => name.startsWith(PREFIX));
      // pages of the version before may still be open and fetch more of it
      const before = stored.filter((name) => name !== CACHE).at(-1);
      await Promise.all(
        stored
          .filter((name) => name !== CACHE && name !== before)
          .map((name) => caches.delete(name)),
      );
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener('message', (event) => {
  if (event.data === TAKE_OVER) void worker.skipWaiting();
});

/** Where a page is stored: addresses of places end in a slash. */
function pageOf(path: string): string {
  const page = path.replace(/index\.html$/u, '');
  return page.endsWith('/') ? page : `${page}/`;
}

async function answer(request: Request): Promise<Response> {
  const { pathname } = new URL(request.url);
  const cache = await caches.open(CACHE);
  const path = request.mode === 'navigate' ? pageOf(pathname) : pathname;
  const stored = (await cache.match(path)) ?? (await caches.match(path));
  if (stored !== undefined) return stored;
  try {
    return await fetch(request);
  } catch (error) {
    if (request.mode !== 'navigate') throw error;
    // an address that leads nowhere, without a network: the first place is better than nothing
    return Response.redirect(`${base}/`);
  }
}

/** Another program shares something with this one: it is laid down, and then looked at. */
async function takeShared(request: Request): Promise<Response> {
  const rest = await layDown(await request.formData(), caches);
  return Response.redirect(`${base}/open/${rest}`, 303);
}

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method === 'POST' && new URL(request.url).pathname === `${base}/open/`) {
    event.respondWith(takeShared(request));
    return;
  }
  if (request.method !== 'GET' || new URL(request.url).origin !== worker.location.origin) return;
  event.respondWith(answer(request));
});
