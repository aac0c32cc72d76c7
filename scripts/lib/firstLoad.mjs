import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { gzipSync } from 'node:zlib';

/**
 * What the script that a place loads at once may weigh, gzipped, in bytes. What only an edit, a failure or a
 * few players need is fetched when it is needed; the places that take edits have what keeps them from the start.
 *
 * @type {Readonly<Record<string, number>>}
 */
export const BUDGETS = {
  'index.html': 137_000,
  'change/index.html': 149_500,
  'compare/index.html': 140_500,
  'arrange/index.html': 158_000,
  'arrange/kept/index.html': 118_000,
  'progression/index.html': 54_500,
  'progression/kept/index.html': 54_500,
  'bench/index.html': 153_500,
  'bench/read/index.html': 70_000,
  'bench/setups/index.html': 86_000,
  'bench/strings/index.html': 112_500,
  'bench/rig/index.html': 115_500,
  'bench/tuning/index.html': 156_000,
  'open/index.html': 110_000,
  'practice/index.html': 58_000,
  'sheet/index.html': 59_000,
  'book/index.html': 59_000,
  '404.html': 54_000,
};

/** What the script loaded before the first voicing shows may weigh. */
export const BUDGET_BYTES = BUDGETS['index.html'] ?? 0;

const PRELOADED = /<link\b[^>]*\brel="?modulepreload"?[^>]*>/g;
const HREF = /\bhref="?([^"\s>]+)"?/;
const STARTED = /\bimport\(\s*["']([^"']+\.js)["']\s*\)/g;
const SCRIPT_SRC = /<script\b[^>]*\bsrc="([^"]+)"/g;
/** `import a from"./x.js"`, `import"./x.js"`, `export{a}from"./x.js"`; not `import("./x.js")`. */
const STATIC_IMPORT = /\b(?:import|export)\s*(?:[\w$*{},\s]+?\bfrom\s*)?["'](\.[^"']+)["']/g;
/** The forms in which Vite leaves the start of a worker: `new Worker(new URL("x.js", …`, or with the URL twice. */
const WORKER =
  /\bnew (?:Shared)?Worker\(\s*(?:""\s*\+\s*)?(?:new URL\(\s*)+(?:\/\*.*?\*\/\s*)?["'`]([^"'`]+)["'`]/g;

/**
 * The script a page loads before anything can be done in it: what its HTML preloads and starts,
 * all that these import (not what they import later, on demand), and the workers they start.
 *
 * @param {string} buildDir
 * @param {string} [page]
 * @returns {{ files: { file: string, gzip: number }[], total: number }}
 */
export function firstLoad(buildDir, page = 'index.html') {
  const home = resolve(buildDir);
  const html = readFileSync(join(home, page), 'utf8');
  const pageFile = join(home, page);
  /** @type {Set<string>} */
  const seen = new Set();
  /** @param {string} address @param {string} from */
  const visit = (address, from) => {
    const file = address.startsWith('/') ? join(home, address) : resolve(dirname(from), address);
    if (seen.has(file) || !file.endsWith('js') || !existsSync(file)) return;
    seen.add(file);
    const code = readFileSync(file, 'utf8');
    for (const [, next] of code.matchAll(STATIC_IMPORT)) visit(next ?? '', file);
    for (const [, next] of code.matchAll(WORKER)) visit(next ?? '', file);
  };
  for (const [link] of html.matchAll(PRELOADED)) visit(HREF.exec(link)?.[1] ?? '', pageFile);
  for (const [, start] of html.matchAll(STARTED)) visit(start ?? '', pageFile);
  for (const [, start] of html.matchAll(SCRIPT_SRC)) visit(start ?? '', pageFile);

  const files = [...seen]
    .map((file) => ({
      file: relative(home, file).split(sep).join('/'),
      gzip: gzipSync(readFileSync(file)).length,
    }))
    .sort((a, b) => b.gzip - a.gzip || a.file.localeCompare(b.file));
  return { files, total: files.reduce((sum, { gzip }) => sum + gzip, 0) };
}

/** The figures as lines to print. @param {ReturnType<typeof firstLoad>} load @param {string} [page] */
export function firstLoadTable({ files, total }, page = 'index.html') {
  const kb = (/** @type {number} */ bytes) => `${(bytes / 1000).toFixed(1).padStart(7)} KB`;
  return [
    `Script loaded at once by ${page} (gzipped, 1 KB = 1000 bytes):`,
    ...files.map(({ file, gzip }) => `${kb(gzip)}  ${file}`),
    `${kb(total)}  in all, of ${(BUDGETS[page] ?? 0) / 1000} KB allowed`,
  ];
}
