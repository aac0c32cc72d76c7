/** The page of the setups that are kept on this device. */
import { type Locator, type Page } from '@playwright/test';
import { expect } from './page';

export class ShelfPage {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async open(): Promise<void> {
    await this.page.goto('bench/setups/');
    await expect(this.page.getByText('Loading…')).toBeHidden();
  }

  get items(): Locator {
    return this.page.locator('.shelf > li');
  }
  /** The names on the shelf, the latest first. */
  get names(): Locator {
    return this.items.getByRole('heading', { level: 3 });
  }
  get answers(): Locator {
    return this.page.getByRole('list', { name: 'What became of the files' }).locator('> li');
  }
  get dialog(): Locator {
    return this.page.getByRole('dialog');
  }

  /** A button of one kept setup. */
  button(setup: string, name: string): Locator {
    return this.page
      .getByRole('group', { name: `${setup}:`, exact: true })
      .getByRole('button', { name, exact: true });
  }

  /** Keeps a copy of a setup that comes with the program. */
  async keep(name = 'E9, three pedals and five levers'): Promise<void> {
    await this.page.getByRole('combobox', { name: /comes with the program/ }).selectOption(name);
    await this.page.getByRole('button', { name: 'Keep a copy', exact: true }).click();
    await expect(this.names.first()).toHaveText(name);
  }

  async rename(from: string, to: string): Promise<void> {
    await this.button(from, 'Rename').click();
    await this.page.getByRole('textbox', { name: 'New name' }).fill(to);
    await this.page.getByRole('textbox', { name: 'New name' }).press('Enter');
  }

  /** Hands files to the page as a drop on its middle does; bytes where they are no text. */
  async drop(
    files: readonly { name: string; content: string | readonly number[] }[],
  ): Promise<void> {
    await this.page.evaluate((given) => {
      const dataTransfer = new DataTransfer();
      for (const { name, content } of given) {
        const part = typeof content === 'string' ? content : new Uint8Array(content);
        dataTransfer.items.add(new File([part], name, { type: 'application/json' }));
      }
      const options = { bubbles: true, cancelable: true, dataTransfer };
      document.body.dispatchEvent(new DragEvent('drop', options));
    }, files);
  }
}

/** The text of the file of a small setup. */
export const fileOf = (name: string, more: Record<string, unknown> = {}): string =>
  JSON.stringify({
    format: 1,
    name,
    necks: [{ name: 'G', strings: [{ open: 'D4' }, { open: 'B3' }, { open: 'G3' }] }],
    controls: [{ id: 'A', station: 'P1', pulls: [{ string: 2, semitones: 1 }] }],
    ...more,
  });
