import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { serveOnFreePort } from '../../../scripts/lib/serve.mjs';
import { runs } from '../../battery';

let outside: string;
let server: Server;
let port: number;

beforeAll(async () => {
  outside = mkdtempSync(join(tmpdir(), 'gripwright-serve-'));
  const site = join(outside, 'site');
  mkdirSync(join(site, 'stand'), { recursive: true });
  mkdirSync(join(site, '_app/immutable'), { recursive: true });
  writeFileSync(join(outside, 'secret.txt'), 'secret');
  for (const file of ['index.html', 'stand/index.html', '404.html', 'a.webmanifest', 'a.wasm']) {
    writeFileSync(join(site, file), file);
  }
  writeFileSync(join(site, '_app/immutable/a.js'), '');
  ({ server, port } = await serveOnFreePort(site, 4400));
});
afterAll(() => {
  server.close();
  rmSync(outside, { recursive: true });
});

/** Asks for a path just as it is written; `fetch` would tidy it first. */
function get(path: string, headers = {}, method = 'GET') {
  return new Promise<{ status: number; headers: Record<string, unknown>; body: string }>((done) => {
    request({ host: '127.0.0.1', port, path, headers, method }, (response) => {
      let body = '';
      response.on('data', (chunk: Buffer) => (body += chunk.toString()));
      response.on('end', () =>
        done({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    }).end();
  });
}

it('gives pages by their folders and keeps the query when it adds the slash', async () => {
  expect(await get('/')).toMatchObject({ status: 200, body: 'index.html' });
  expect(await get('/stand/')).toMatchObject({ status: 200, body: 'stand/index.html' });
  const moved = await get('/stand?chord=E7');
  expect([moved.status, moved.headers.location]).toEqual([308, '/stand/?chord=E7']);
});

it('names the content types a browser insists on', async () => {
  const types = ['/', '/a.webmanifest', '/a.wasm', '/_app/immutable/a.js'];
  const answers = await Promise.all(types.map((path) => get(path)));
  expect(answers.map(({ headers }) => headers['content-type'])).toEqual([
    'text/html; charset=utf-8',
    'application/manifest+json; charset=utf-8',
    'application/wasm',
    'text/javascript; charset=utf-8',
  ]);
});

it('lets only hashed files be kept for ever, and answers 304 to what is unchanged', async () => {
  expect((await get('/_app/immutable/a.js')).headers['cache-control']).toContain('immutable');
  const page = await get('/');
  expect(page.headers['cache-control']).toBe('no-cache');
  expect((await get('/', { 'if-none-match': page.headers.etag })).status).toBe(304);
});

it.each([
  '/../secret.txt',
  '/%2e%2e/secret.txt',
  '/..%2fsecret.txt',
  '/stand/..%2f..%2fsecret.txt',
])('shows the page for lost ways and nothing from outside the folder at %s', async (path) => {
  expect(await get(path)).toMatchObject({ status: 404, body: '404.html' });
});

it('listens to this machine alone, as the servers of Vite are told to', async () => {
  const address = server.address();
  expect(typeof address === 'object' && address?.address).toBe('127.0.0.1');
  const { default: config } = await import('../../../vite.config');
  expect(config).toMatchObject({ server: { host: '127.0.0.1' }, preview: { host: '127.0.0.1' } });
});

it('refuses addresses it cannot read and methods that would change something', async () => {
  expect((await get('/%zz')).status).toBe(400);
  expect((await get('/%00')).status).toBe(400);
  expect((await get('/', {}, 'POST')).status).toBe(405);
  expect(await get('/', {}, 'HEAD')).toMatchObject({ status: 200, body: '' });
});

it('answers whatever it is asked, and is there afterwards', async () => {
  const segment = fc.oneof(
    fc.constantFrom(
      'index.html',
      'stand',
      'a.wasm',
      '_app',
      'immutable',
      '404.html',
      '',
      '.',
      '..',
    ),
    fc.constantFrom(
      '%23setup=x',
      '%00',
      '%',
      '%zz',
      '%2e%2e',
      '%2f',
      '\\',
      ':',
      '*',
      '~',
      '%C0%AF',
    ),
    // one that no file system takes, and one that just fits
    fc.integer({ min: 200, max: 9000 }).map((length) => 'x'.repeat(length)),
    fc.string({ unit: fc.integer({ min: 0x21, max: 0x7e }).map((c) => String.fromCharCode(c)) }),
  );
  const path = fc
    .tuple(fc.array(segment, { maxLength: 6 }), fc.boolean(), fc.option(fc.constant('?a=%zz&b')))
    .map(([parts, slash, query]) => `/${parts.join('/')}${slash ? '/' : ''}${query ?? ''}`);
  const headers = fc.record(
    {
      range: fc.constantFrom(
        'bytes=5-2',
        'bytes=-',
        'bytes=0-',
        'bytes=9999-',
        'x',
        'bytes=1-2,4-5',
      ),
      'if-none-match': fc.constantFrom('*', '"', 'W/"0-0"'),
      'if-modified-since': fc.constantFrom('yesterday', 'Thu, 01 Jan 1970 00:00:00 GMT'),
    },
    { requiredKeys: [] },
  );
  await fc.assert(
    fc.asyncProperty(
      path,
      headers,
      fc.constantFrom('GET', 'HEAD', 'PUT'),
      async (at, more, how) => {
        const { status, body } = await get(at, more, how);
        expect(status).toBeLessThan(500);
        expect(body).not.toContain('secret');
      },
    ),
    { numRuns: runs(250, 10_000) },
  );
  for (const at of ['/index.html/', `/${'x'.repeat(251)}`, '/%23setup=abc', '/a.wasm/index.html'])
    expect(await get(at), at).toMatchObject({ status: 404, body: '404.html' });
  expect(await get('/')).toMatchObject({ status: 200, body: 'index.html' });
});
