/** Poppler's tools as an independent reader of our PDF files, where they are installed. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Tests that need an independent reader say so in the report where there is none. */
export const hasPoppler = ['pdftotext', 'pdffonts', 'pdftoppm'].every(
  (tool) => spawnSync(tool, ['-v']).error === undefined,
);

/** Runs a tool on a PDF; what it complains about is a failure. */
function run(
  tool: string,
  bytes: Uint8Array,
  args: (file: string, out: string) => string[],
): Buffer {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-pdf-'));
  try {
    const file = join(folder, 'a.pdf');
    const out = join(folder, 'out');
    writeFileSync(file, bytes);
    const { status, stderr } = spawnSync(tool, args(file, out));
    if (status !== 0 || stderr.length > 0) throw new Error(`${tool}: ${stderr.toString()}`);
    return readFileSync(out);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What is selected and copied, page after page. */
export const pdfText = (bytes: Uint8Array): string =>
  run('pdftotext', bytes, (file, out) => ['-layout', file, out]).toString();

/** Every word with its left and right edge in points. */
export function pdfWords(bytes: Uint8Array): { word: string; left: number; right: number }[] {
  const html = run('pdftotext', bytes, (file, out) => ['-bbox', file, out]).toString();
  return [...html.matchAll(/<word xMin="([\d.]+)" .*?xMax="([\d.]+)".*?>(.*?)<\/word>/g)].map(
    ([, left, right, word = '']) => ({ word, left: Number(left), right: Number(right) }),
  );
}

/** The table of fonts, a row each: name, …, embedded, subset, unicode. */
export function pdfFonts(bytes: Uint8Array): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-pdf-'));
  const file = join(folder, 'a.pdf');
  writeFileSync(file, bytes);
  const { stdout } = spawnSync('pdffonts', [file]);
  rmSync(folder, { recursive: true });
  return stdout.toString().trim().split('\n').slice(2);
}

/** A page as a grey picture: 0 is black, 255 white. */
export function pdfPicture(
  bytes: Uint8Array,
  dotsPerInch: number,
): { width: number; height: number; at: (x: number, y: number) => number } {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-pdf-'));
  const file = join(folder, 'a.pdf');
  writeFileSync(file, bytes);
  const args = ['-gray', '-singlefile', '-r', String(dotsPerInch), file, join(folder, 'out')];
  const { stderr } = spawnSync('pdftoppm', args);
  if (stderr.length > 0) throw new Error(`pdftoppm: ${stderr.toString()}`);
  const picture = readFileSync(join(folder, 'out.pgm'));
  rmSync(folder, { recursive: true });
  const head = /^P5\s(\d+)\s(\d+)\s255\s/.exec(picture.toString('latin1', 0, 40));
  if (head === null) throw new Error('a grey picture was expected');
  const [width, height] = [Number(head[1]), Number(head[2])];
  return { width, height, at: (x, y) => picture[head[0].length + y * width + x] ?? -1 };
}
