/** Typing a chord asks where it lies. */
import { expect, test } from './page';

test.describe('typing a chord', () => {
  test('finds its rows, holds the easiest, names it and writes the address', async ({
    page,
    gripwright,
  }) => {
    await gripwright.open();
    await gripwright.ask('C#m7');
    await expect(gripwright.heading).toContainText('C♯m7');
    await expect(gripwright.rows.first()).toHaveAttribute('aria-current', 'true');
    await gripwright.expectName('C sharp minor seventh');
    await expect(page).toHaveURL(/\?chord=C%23m7$/);
    await expect(page).toHaveTitle('C#m7 · Gripwright');
  });

  test('takes a real sharp sign for a sharp', async ({ gripwright }) => {
    await gripwright.open();
    await gripwright.ask('C♯m7');
    await expect(gripwright.heading).toContainText('C♯m7');
    await gripwright.expectName('C sharp minor seventh');
    // C♯ minor seventh is C♯ E G♯ B: nothing else sounds in any row
    await expect(gripwright.rows.first()).toBeVisible();
    for (const notes of await gripwright.rowNotes())
      for (const note of notes) expect(['C♯', 'E', 'G♯', 'B']).toContain(note.replace(/\d/, ''));
  });

  // Common practice on E9, fret f: A is C♯ minor + f; LKR is G♯ minor + f; B+LKR is B7 + f; with
  // nothing pressed string 9 makes E7 + f. All of them at fret 3.
  for (const [symbol, row] of [
    ['Em', 'Fret 3, A, strings'],
    ['Bm', 'Fret 3, LKR, strings'],
    ['D7', 'Fret 3, B and LKR, strings'],
    ['G7', 'Fret 3, nothing engaged, strings'],
  ] as const) {
    test(`finds ${symbol} where players know it: ${row}`, async ({ gripwright }) => {
      await gripwright.open();
      await gripwright.ask(symbol);
      await expect(gripwright.heading).toContainText(new RegExp(`^${symbol} `));
      expect((await gripwright.rowNames()).filter((name) => name.startsWith(row))).not.toEqual([]);
    });
  }

  test('marks the place that cannot be read, says a sentence and keeps the last answer', async ({
    page,
    gripwright,
  }) => {
    await gripwright.open();
    const before = await gripwright.rowNames();
    await gripwright.ask('Cmaj7zz');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await expect(page.locator('mark')).toHaveText(/^zz?$/);
    // the sentence belongs to the field, so it is read out with it
    await expect(gripwright.chord).toHaveAccessibleDescription(/\w+ .*\w+/);
    await expect(gripwright.heading).toContainText(/^C /);
    expect(await gripwright.rowNames()).toEqual(before);

    await gripwright.ask('Cmaj7');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'false');
    await expect(page.locator('mark')).toHaveCount(0);
    await expect(gripwright.heading).toContainText(/^Cmaj7 /);
  });

  test('takes N.C. for no chord and says so', async ({ gripwright }) => {
    await gripwright.open();
    await gripwright.ask('N.C.');
    await expect(gripwright.chord).toHaveAccessibleDescription(/no chord/);
    await expect(gripwright.rows.first()).toBeVisible();
  });

  test('asks for a chord when the field is emptied', async ({ gripwright }) => {
    await gripwright.open();
    await gripwright.ask('');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.chord).toHaveAccessibleDescription(/\w+ .*\w+/);
    await expect(gripwright.rows.first()).toBeVisible();
  });

  test('answers the chord in the field, however fast it was typed', async ({
    page,
    gripwright,
  }) => {
    await gripwright.open();
    await gripwright.chord.click();
    // the field is selected, so typing replaces what is in it
    await page.keyboard.type('F#m7b5');
    await expect(gripwright.heading).toContainText('F♯m7♭5');
    await gripwright.expectName('F sharp half-diminished seventh');
    // F♯ half-diminished is F♯ A C E
    for (const notes of await gripwright.rowNotes())
      for (const note of notes) expect(['F♯', 'A', 'C', 'E']).toContain(note.replace(/\d/, ''));
  });

  test('is answered on the table first, then in words and rows, each in a frame of its own', async ({
    page,
    gripwright,
  }) => {
    await gripwright.open();
    await page.evaluate(() => {
      let frame = 0;
      const firsts: Record<string, number> = {};
      const count = (): number => requestAnimationFrame(() => ((frame += 1), count()));
      count();
      const watch = (what: string, selector: string): void => {
        const part = document.querySelector(selector);
        if (part === null) throw new Error(`There is no ${selector}.`);
        new MutationObserver(() => (firsts[what] ??= frame)).observe(part, {
          subtree: true,
          childList: true,
          characterData: true,
          attributeFilter: ['aria-valuenow'],
        });
      };
      watch('table', '[aria-label^="The table:"]');
      watch('words', '[aria-label="The table"] [aria-live]');
      watch('rows', '[aria-label="Voicings"] ol');
      Object.assign(globalThis, { firsts });
    });
    await gripwright.ask('Bb7');
    await expect(gripwright.heading).toContainText('B♭7');
    await gripwright.settle();
    const { table, words, rows } = await page.evaluate(
      () => Reflect.get(globalThis, 'firsts') as Record<string, number>,
    );
    expect(words).toBeGreaterThan(table ?? Infinity);
    expect(rows).toBeGreaterThan(table ?? Infinity);
  });

  test('spells what sounds in the key', async ({ gripwright }) => {
    // Nothing pressed at fret 4 is E + 4: in E♭ that is A♭ major, in E it is G♯ major; string 5,
    // B + 4, is the lowest.
    await gripwright.open();
    await gripwright.key.fill('Eb');
    await gripwright.bar.press('Home');
    for (let fret = 1; fret <= 4; fret++) await gripwright.bar.press('ArrowRight');
    await gripwright.expectName('A flat major over E flat');
    await gripwright.key.fill('E');
    await gripwright.expectName('G sharp major over D sharp');
    await gripwright.expectFret(4);
  });

  test('says which key cannot be read', async ({ gripwright }) => {
    await gripwright.open();
    await gripwright.key.fill('H');
    await expect(gripwright.key).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.key).toHaveAccessibleDescription(/“H”.*such as Eb/);
    await expect(gripwright.rows.first()).toBeVisible();
  });
});
