/**
 * Typing a chord asks where it lies: field, marks, rows, table, history. What is found, said and
 * written is `tests/unit/ui/typedChord.test.ts`.
 */
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('a chord that is typed is found, held, named and written into the address', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();

  await test.step('its rows are there, the easiest is held', async () => {
    await gripwright.ask('C#m7');
    await expect(gripwright.heading).toContainText('C♯m7');
    await expect(gripwright.rows.first()).toHaveAttribute('aria-current', 'true');
    await gripwright.expectName('C sharp minor seventh');
    await expect(page).toHaveURL(/\?chord=C%23m7$/);
    await expect(page).toHaveTitle('C#m7 · Gripwright');
  });

  await test.step('typing replaces what is in the field, however fast', async () => {
    await gripwright.chord.blur();
    await gripwright.chord.click();
    await page.keyboard.type('F#m7b5');
    await expect(gripwright.heading).toContainText('F♯m7♭5');
    await gripwright.expectName('F sharp half-diminished seventh');
    // F♯ half-diminished is F♯ A C E
    for (const notes of await gripwright.rowNotes())
      for (const note of notes) expect(['F♯', 'A', 'C', 'E']).toContain(note.replace(/\d/, ''));
  });

  await test.step('the place that cannot be read is marked, with a sentence, and the last answer stays', async () => {
    const before = await gripwright.rowNames();
    await gripwright.ask('Cmaj7zz');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await expect(page.locator('mark')).toHaveText(/^zz?$/);
    // the sentence belongs to the field, so it is read out with it
    await expect(gripwright.chord).toHaveAccessibleDescription(/\w+ .*\w+/);
    await expect(gripwright.heading).toContainText(/^F♯m7♭5 /);
    expect(await gripwright.rowNames()).toEqual(before);

    await gripwright.ask('Cmaj7');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'false');
    await expect(page.locator('mark')).toHaveCount(0);
    await expect(gripwright.heading).toContainText(/^Cmaj7 /);
  });

  await test.step('notes are called the German way: H is B, and B is B flat', async () => {
    await gripwright.callNotes('C D … H');
    await gripwright.ask('H7');
    await expect(gripwright.heading).toContainText(/^H7 /);
    await expect(page).toHaveURL(/\?chord=B7$/);
    // B7 is B D♯ F♯ A
    for (const notes of await gripwright.rowNotes())
      for (const note of notes) expect(['H', 'Dis', 'Fis', 'A']).toContain(note.replace(/\d/, ''));
    await gripwright.ask('B');
    await expect(gripwright.heading).toContainText(/^B /);
    await expect(page).toHaveURL(/\?chord=Bb$/);
    await gripwright.expectName('B major');
    // a syllable is refused, and what it likely means is one press away, called as notes are here
    await gripwright.ask('Si');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await page.getByRole('button', { name: 'H', exact: true }).click();
    await expect(gripwright.heading).toContainText(/^H /);
    await expect(page).toHaveURL(/\?chord=B$/);
    await gripwright.callNotes('C D … B');
    await expect(gripwright.heading).toContainText(/^B /);
    await gripwright.ask('Cmaj7');
  });

  await test.step('an emptied field asks for a chord, and N.C. is none', async () => {
    await gripwright.ask('');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.chord).toHaveAccessibleDescription(/\w+ .*\w+/);
    await gripwright.ask('N.C.');
    await expect(gripwright.chord).toHaveAccessibleDescription(/no chord/);
    await expect(gripwright.rows.first()).toBeVisible();
  });

  await test.step('the key spells what sounds, or is told', async () => {
    // Nothing pressed at fret 4 is E + 4: in E♭ that is A♭ major; string 5, B + 4, is the lowest.
    await gripwright.ask('C');
    await expect(gripwright.heading).toContainText(/^C /);
    await gripwright.key.fill('Eb');
    await gripwright.bar.press('Home');
    for (let fret = 1; fret <= 4; fret++) await gripwright.bar.press('ArrowRight');
    await gripwright.expectName('A flat major over E flat');
    await gripwright.key.fill('H');
    await expect(gripwright.key).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.key).toHaveAccessibleDescription(/“H”.*such as Eb/);
    await gripwright.expectFret(4);
    await expect(gripwright.rows.first()).toBeVisible();
  });
});

test('a chord is answered on the table first, then in words and rows, each in a frame of its own', async ({
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
    watch('table', '[aria-label^="Neck:"]');
    watch('words', '[aria-label="Neck"] [aria-live]');
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
