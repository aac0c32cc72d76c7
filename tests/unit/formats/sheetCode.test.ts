/** The code on a sheet: an independent reader opens what it carries, and the words beside it are true. */
import jsQR from 'jsqr';
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import { benchSheet } from '$lib/formats/benchSheet';
import type { Drawing } from '$lib/formats/drawing';
import { isThisMachine, readPaperAddress } from '$lib/formats/paperAddress';
import { codeMark, codeOf } from '$lib/formats/qr';
import { linkText, readLink } from '$lib/formats/shareLink';
import type { SheetCode } from '$lib/formats/sheetCode';
import { tabDrawing } from '$lib/formats/tabDrawing';

const codeFor = (setup: Setup, address: string): SheetCode => ({
  address,
  link: linkText({ kind: 'setup', text: JSON.stringify(setupFileOf(setup)) }),
  opens: 'this setup',
});
const wordsOf = ({ pages }: Drawing): string =>
  pages
    .flatMap(({ marks }) => marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])))
    .join(' ');

/** Paints the rectangles of an outline into dots, four a module of 0.4 mm, and has them read. */
function readBack({ pages }: Drawing): string | undefined {
  const DOTS_A_MM = 10;
  const WHITE_MM = 2;
  for (const { marks } of pages)
    for (const mark of marks) {
      if (mark.kind !== 'path') continue;
      const corners = mark.steps.flatMap((step) =>
        step[0] === 'M' || step[0] === 'L' ? [[step[1], step[2]] as const] : [],
      );
      const [left, top] = [0, 1].map((of) => Math.min(...corners.map((each) => each[of] ?? 0)));
      const dot = (mm: number, from = 0): number => Math.round((mm - from + WHITE_MM) * DOTS_A_MM);
      const size = dot(Math.max(...corners.map(([x]) => x)), left) + WHITE_MM * DOTS_A_MM;
      const dots = new Uint8ClampedArray(size * size * 4).fill(255);
      // a rectangle has four corners, from the top left on
      for (let at = 0; at < corners.length; at += 4) {
        const [x0, y0] = corners[at] ?? [0, 0];
        const [x1, y1] = corners[at + 2] ?? [0, 0];
        for (let y = dot(y0, top); y < dot(y1, top); y++)
          for (let x = dot(x0, left); x < dot(x1, left); x++)
            dots.fill(0, 4 * (y * size + x), 4 * (y * size + x) + 3);
      }
      return jsQR(dots, size, size, { inversionAttempts: 'dontInvert' })?.data;
    }
  return undefined;
}

it('on the bench sheet carries the whole setup to the address that was set', () => {
  const setup = builtIn('universal12');
  const sheet = benchSheet(setup, { code: codeFor(setup, 'https://steel.example.org/play/') });
  const [address, behind = ''] = readBack(sheet)?.split('#') ?? [];
  expect(address).toBe('https://steel.example.org/play/open/');
  const link = readLink(behind);
  expect(link.ok && link.value.kind).toBe('setup');
  const opened = readSetupText(link.ok ? link.value.text : '');
  expect(opened.ok && opened.value).toEqual(setup);
  expect(wordsOf(sheet)).toContain('https://steel.example.org/play/');
  expect(wordsOf(sheet)).not.toContain('this machine alone');
});

it('says where its address is this machine alone, and where there is no code at all', () => {
  const setup = builtIn('lap6-c6');
  const words = wordsOf(benchSheet(setup, { code: codeFor(setup, 'http://localhost:4310/') }));
  expect(words).toContain('That address is this machine alone');
  const code = codeFor(setup, 'https://steel.example.org/');
  const long = { ...code, link: { ok: true, value: 'x'.repeat(2500) } } as const;
  expect(wordsOf(benchSheet(setup, { code: long }))).toContain('There is no code for this setup.');
  expect(readBack(benchSheet(setup, { code: long }))).toBeUndefined();
});

it('is as dense as paper bears and no denser', () => {
  // ISO/IEC 18004, table 7: version 32-L holds 1,952 bytes
  expect(codeOf('x'.repeat(1952))?.rows).toHaveLength(145);
  expect(codeOf('x'.repeat(1953))).toBeUndefined();
  // four modules of white on each side (6.3.8)
  const code = codeOf('https://steel.example.org/');
  const side = code?.sideMm ?? 0;
  const module = side / ((code?.rows.length ?? 0) + 8);
  const xs = codeMark(code as NonNullable<typeof code>, 0, 0).steps.flatMap((step) =>
    step[0] === 'M' || step[0] === 'L' ? [step[1]] : [],
  );
  expect(Math.min(...xs)).toBeCloseTo(4 * module, 9);
  expect(Math.max(...xs)).toBeCloseTo(side - 4 * module, 9);
});

it.each([
  ['https://Steel.Example.org', 'https://steel.example.org/'],
  [' http://192.168.1.7:4310/steel ', 'http://192.168.1.7:4310/steel/'],
  ['ftp://steel.example.org/', undefined],
  ['steel.example.org', undefined],
  ['https://', undefined],
  ['https://a b/', undefined],
  ['https://steel.example.org/?x=1', undefined],
])('reads the address %s', (text, address) => {
  const read = readPaperAddress(text);
  expect(read.ok ? read.value : undefined).toBe(address);
});

it.each([
  // RFC 6761 (localhost), RFC 1122 (127/8), RFC 4291 (::1)
  ['http://localhost:5173/', true],
  ['http://127.0.0.1:4310/', true],
  ['http://[::1]:4310/', true],
  ['file:///home/steel/index.html', true],
  ['http://192.168.1.7:4310/', false],
  ['https://steel.example.org/', false],
])('knows whether %s is this machine alone', (address, alone) => {
  expect(isThisMachine(address)).toBe(alone);
});

it('stands on no page of tablature alone, however long the piece is', () => {
  const setup = builtIn('e9');
  const step = {
    chord: 'C',
    beats: 4,
    voicing: { neck: 1, strings: [4], frets: [8], engaged: [] },
  };
  for (let bars = 24; bars <= 60; bars += 3) {
    const steps = Array.from({ length: bars }, (_, at) => ({ ...step, bar: at + 1 }));
    const sheet = tabDrawing(
      { title: 'Long', setup, steps },
      'A4',
      codeFor(setup, 'http://localhost'),
    );
    for (const { marks } of sheet.pages)
      expect(marks.some((mark) => mark.kind === 'text' && /^\(?8\)?$/u.test(mark.text))).toBe(true);
  }
});
