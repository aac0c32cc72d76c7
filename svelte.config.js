import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import adapter from '@sveltejs/adapter-static';

/**
 * The version that the service worker goes by: the same sources give the same one, and any change of
 * them another.
 */
function version() {
  const hash = createHash('sha256');
  for (const folder of ['src', 'static', 'shared'])
    for (const entry of readdirSync(join(import.meta.dirname, folder), {
      recursive: true,
      withFileTypes: true,
    })
      .filter((each) => each.isFile())
      .map((each) => join(each.parentPath, each.name))
      .sort())
      hash.update(entry.slice(import.meta.dirname.length)).update(readFileSync(entry));
  hash.update(readFileSync(join(import.meta.dirname, 'package-lock.json')));
  return `${process.env.npm_package_version ?? 'dev'}-${hash.digest('hex').slice(0, 12)}`;
}

/**
 * What the site's own rules let run of the script that stands in the page itself. It stands there
 * because a file of its own would keep the browser from seeing what else it has to fetch.
 */
function scriptsOfPage() {
  const page = readFileSync(join(import.meta.dirname, 'src/app.html'), 'utf8');
  return [...page.matchAll(/<script>([^]*?)<\/script>/gu)].map(
    ([, script = '']) =>
      /** @type {const} */ (`sha256-${createHash('sha256').update(script).digest('base64')}`),
  );
}

/** @type {import('@sveltejs/kit').Config} */
export default {
  kit: {
    adapter: adapter({ pages: 'build', assets: 'build', fallback: '404.html', strict: true }),
    // Relative paths let the built folder be served from any place on a site.
    paths: { relative: true },
    version: { name: version() },
    // the page registers it itself, to offer a new version instead of taking it
    serviceWorker: {
      register: false,
      // pictures are for who reads about the program; no device has to keep them
      files: (file) => !file.startsWith('pictures/') && !file.includes('.DS_Store'),
    },
    csp: {
      mode: 'hash',
      directives: {
        'default-src': ['none'],
        'script-src': ['self', ...scriptsOfPage()],
        'worker-src': ['self'],
        'style-src': ['self', 'unsafe-inline'],
        'img-src': ['self', 'data:', 'blob:'],
        'font-src': ['self'],
        'media-src': ['self', 'blob:'],
        'connect-src': ['self'],
        'manifest-src': ['self'],
        'object-src': ['none'],
        'base-uri': ['none'],
        'form-action': ['none'],
      },
    },
  },
  compilerOptions: { runes: true },
};
