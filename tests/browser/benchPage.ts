/** The Bench as a player meets it: cells found by what a screen reader says of them. */
import { expect, type Locator, type Page } from '@playwright/test';

export class BenchPage {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async open(query = ''): Promise<void> {
    await this.page.goto(`bench/${query}`);
    // the first count waits for a worker to start, which takes its time on a busy machine
    await expect(this.page.getByText(/voicings of everyday chords/)).toBeVisible({
      timeout: 20_000,
    });
  }

  get grid(): Locator {
    return this.page.getByRole('grid');
  }
  /** The cell of a control and a string. */
  cell(id: string, string: number): Locator {
    return this.grid.getByRole('gridcell', { name: new RegExp(`^${id} on string ${string}:`) });
  }
  openNote(string: number): Locator {
    return this.grid.getByRole('gridcell', { name: new RegExp(`^String ${string}, open:`) });
  }
  gauge(string: number): Locator {
    return this.grid.getByRole('gridcell', { name: new RegExp(`^String ${string}: gauge`) });
  }
  string(string: number): Locator {
    return this.grid.getByRole('rowheader', { name: `String ${string}`, exact: true });
  }
  head(id: string): Locator {
    return this.grid.getByRole('columnheader', { name: new RegExp(`^(Pedal|Lever) ${id}(,|$)`) });
  }
  get heads(): Locator {
    return this.grid.getByRole('columnheader', { name: /^(Pedal|Lever)/ });
  }
  get undo(): Locator {
    return this.page.getByRole('button', { name: 'Undo', exact: true });
  }
  get redo(): Locator {
    return this.page.getByRole('button', { name: 'Redo', exact: true });
  }
  /** A string's end at the changer. */
  finger(string: number): Locator {
    return this.page.getByRole('slider', { name: new RegExp(`^String ${string},`) });
  }
  get did(): Locator {
    return this.page.getByRole('region', { name: 'What the edit did' });
  }
  /** Opens the menu of the setup as a whole, and chooses what is called so. */
  async act(name: string): Promise<void> {
    await this.page.getByRole('button', { name: 'Setup actions' }).click();
    await this.page
      .getByRole('region', { name: 'Setup actions' })
      .getByRole('button', { name, exact: true })
      .click();
  }
  /** The tools of a string or a control whose head is chosen, by their name. */
  tools(legend: string | RegExp): Locator {
    return this.page.getByRole('group', { name: legend });
  }

  /** How many voicings of everyday chords there are. */
  async count(): Promise<number> {
    const said = await this.did.getByText(/voicings of everyday chords/).innerText();
    return Number(/^[\d,]+/.exec(said)?.[0].replaceAll(',', ''));
  }
  async type(cell: Locator, text: string): Promise<void> {
    await cell.focus();
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
  }
}
