/** What a print would put on paper, read back by poppler where it is there. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Page } from '@playwright/test';
import { expect } from './page';

export const hasPoppler = spawnSync('pdftotext', ['-v']).error === undefined;

/** What the browser would send to a printer, as text, a form feed after every page. */
export async function printed(page: Page): Promise<{ text: string; sizes: string[] }> {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-print-'));
  try {
    const file = join(folder, 'a.pdf');
    writeFileSync(file, await page.pdf({ preferCSSPageSize: true }));
    const text = spawnSync('pdftotext', ['-layout', file, '-']).stdout.toString();
    const info = spawnSync('pdfinfo', ['-l', '99', file]).stdout.toString();
    return { text, sizes: [...info.matchAll(/size: +(.*?) pts/g)].map(([, size = '']) => size) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What of the page stands on paper, as text; without what only a screen shows. */
export async function onPaper(page: Page): Promise<string> {
  await page.emulateMedia({ media: 'print' });
  const text = await page.locator('body').innerText();
  await page.emulateMedia({ media: null });
  return text;
}

/** The print dialog cannot be reached; what is on the page while it is open can. */
export async function printPressed(page: Page): Promise<{ text: string; sizes: string[] }> {
  await page.evaluate(() => {
    window.print = () => {
      document.body.dataset['printing'] = 'yes';
    };
  });
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  await expect(page.locator('body')).toHaveAttribute('data-printing', 'yes');
  return printed(page);
}
