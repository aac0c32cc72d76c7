/** A tune in Arrange: every note in its texture, asked for otherwise, drawn in staves, heard. */
import { readFile } from 'node:fs/promises';
import { expect, keptPageTest as test } from './page';

test.describe.configure({ timeout: 120_000 });

/** Whole notes in one track of a Standard MIDI File 1.0, format 0, at 96 ticks a quarter. */
function midiOf(keys: readonly number[]): Buffer {
  // 384 ticks in two bytes of seven bits each: 3 and 0
  const events = keys.flatMap((key) => [0, 0x90, key, 96, 0x83, 0, 0x80, key, 0]);
  const track = [...events, 0, 0xff, 0x2f, 0];
  const head = [0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96];
  return Buffer.from([...head, 0x4d, 0x54, 0x72, 0x6b, 0, 0, 0, track.length, ...track]);
}

const TUNE = `X:1
T:A walk in the meadow
M:4/4
L:1/4
K:G
P:A
"G"G B d B | "C"c e c2 |
P:B
"D7"A2 F2 | "G"G4 |]`;

test('a tune from a file is arranged note by note, asked for otherwise, drawn and heard', async ({
  page,
}) => {
  await page.goto('arrange/');
  // what is opened is taken once the page is there
  await expect(page.getByRole('region', { name: 'Staff' })).toBeVisible();
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'walk.abc',
      mimeType: 'text/plain',
      buffer: Buffer.from(TUNE),
    });
  await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('A walk in the meadow');
  const notes = page.locator('[data-note]');

  await test.step('a texture is chosen, for all and for one measure', async () => {
    await page.getByRole('combobox', { name: 'Texture of all measures' }).selectOption('line');
    await expect(notes).toHaveCount(10);
    await page.getByRole('button', { name: 'Choose measure 2' }).click();
    await page.getByRole('combobox', { name: 'Texture of measure 2' }).selectOption('sixths');
    await expect(page).toHaveURL(/measures=2%3Dsixths/);
    await expect(notes.nth(3).locator('.strings')).toHaveText(/^\d+\D*$/);
    await expect(notes.nth(4).locator('.strings')).toHaveText(/^\d+\D* \d+/);
  });

  await test.step('a note is moved to another string, and freed', async () => {
    await notes.nth(2).click();
    await page.getByRole('combobox', { name: 'Move the tune to another string' }).selectOption('5');
    await expect(notes.nth(2).locator('.strings')).toHaveText(/^5/);
    await expect(page).toHaveURL(/notes=1%3A3%3Dtune%3A5/);
  });

  await test.step('what is asked of a note follows it when a measure comes before', async () => {
    await page.getByText('The tune', { exact: true }).click();
    const written = page.getByRole('textbox', { name: /ABC notation/ });
    const text = await written.inputValue();
    await written.fill(text.replace('"G"', '"Em"E4 | "G"'));
    await page.getByRole('button', { name: 'Use this tune' }).click();
    await expect(page).toHaveURL(/notes=2%3A3%3Dtune%3A5/);
    await expect(page).toHaveURL(/measures=3%3Dsixths/);
    await expect(notes.nth(3).locator('.strings')).toHaveText(/^5/);
    await page.goBack();
    await expect(notes).toHaveCount(10);
    await notes.nth(2).click();
    await page.getByRole('button', { name: 'Free it' }).click();
    await expect(page).not.toHaveURL(/notes=/);
  });

  await test.step('by keys alone a string is chosen in its list, and a measure along the heads', async () => {
    await notes.nth(2).focus();
    await page.keyboard.press('ArrowLeft');
    await expect(notes.nth(1)).toBeFocused();
    await page.getByRole('combobox', { name: 'Move the tune to another string' }).focus();
    // what the arrow keys go past is not asked for
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await expect(page).not.toHaveURL(/notes=/);
    await page.keyboard.press('Enter');
    await expect(page).toHaveURL(/notes=1%3A2%3Dtune/);
    await page.getByRole('button', { name: 'Free it' }).click();
    await expect(page).not.toHaveURL(/notes=/);
    await notes.nth(1).focus();
    await page.keyboard.press('Shift+Tab');
    await expect(page.getByRole('button', { name: 'Choose measure 1' })).toBeFocused();
    await page.keyboard.press('ArrowRight');
    await expect(page.getByRole('button', { name: 'Choose measure 2' })).toBeFocused();
  });

  await test.step('one section is struck otherwise', async () => {
    await page.getByRole('combobox', { name: 'Where this strike counts' }).selectOption('B');
    await page.getByRole('combobox', { name: 'Strike of “B”' }).selectOption('pad');
    await expect(page).toHaveURL(/strike=B%3Dpad/);
  });

  await test.step('staves stand above the tablature, with numbers for chords where wanted', async () => {
    const staff = page.getByRole('region', { name: 'Staff' });
    await expect(staff.getByRole('img', { name: /measures 1 to/ })).toBeVisible();
    await page.getByRole('combobox', { name: 'Chord signs' }).selectOption('numbers');
    await expect(staff.locator('text', { hasText: '5⁷' }).first()).toBeVisible();
  });

  await test.step('what is heard is marked in strip and staff', async () => {
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await expect(page.locator('[data-note].heard')).toHaveCount(1, { timeout: 10_000 });
    await expect(page.locator('.cursor')).toHaveCount(1);
    await page.getByRole('button', { name: 'Stop' }).click();
    await expect(page.locator('.cursor')).toHaveCount(0);
  });

  const saved = async (press: () => Promise<void>): Promise<Buffer> => {
    const [download] = await Promise.all([page.waitForEvent('download'), press()]);
    return readFile(await download.path());
  };
  const saveAs = async (ending: string): Promise<Buffer> => {
    await page.getByRole('combobox', { name: 'Save as' }).selectOption(ending);
    return saved(() => page.getByRole('button', { name: 'Save', exact: true }).click());
  };

  await test.step('staves and tablature go to one paper', async () => {
    const paper = page.getByRole('group', { name: /on paper$/ });
    await expect(paper).toHaveCount(1);
    const pdf = await saved(() => paper.getByRole('button', { name: 'Save PDF' }).click());
    expect(pdf.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  });

  await test.step('a substitution is heard, taken, and taken back', async () => {
    await page.getByText('Substitutions', { exact: true }).click();
    await page.getByRole('button', { name: 'Find substitutions' }).click();
    // nothing is struck of a chord yet
    await expect(page.getByText(/only substitutions that change what is played/)).toBeVisible();
    const texture = page.getByRole('combobox', { name: /^Texture of/ });
    await texture.selectOption('chord-melody');
    await page.getByRole('button', { name: 'Find again' }).click();
    const hear = page.getByRole('button', { name: /^Hear / }).first();
    await hear.click({ timeout: 20_000 });
    await page.getByRole('button', { name: 'Stop' }).click();
    const take = page.getByRole('button', { name: /^Take / }).first();
    const [, chord = ''] =
      /^Take (\S+) in/.exec((await take.getAttribute('aria-label')) ?? '') ?? [];
    const chords = page.getByRole('textbox', { name: /chords/i }).first();
    const before = await chords.inputValue();
    await take.click();
    await expect(chords).toHaveValue(new RegExp(`\\b${chord.replace(/\W/gu, '.')}`));
    await expect(chords).not.toHaveValue(before);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(chords).toHaveValue(before);
    await texture.selectOption('line');
    await expect(notes).toHaveCount(10);
  });

  await test.step('its tune is opened again from a score, and from MIDI over chords', async () => {
    const score = await saveAs('musicxml');
    const open = (name: string, buffer: Buffer) =>
      page
        .locator('input[type=file]')
        .first()
        .setInputFiles({ name, mimeType: 'application/octet-stream', buffer });
    await page.goto('arrange/?texture=line');
    await open('walk.musicxml', score);
    await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('A walk in the meadow');
    await expect(notes).toHaveCount(10);
    await page.goto(`arrange/?texture=line&chords=${encodeURIComponent('G | C | D7 | G')}`);
    await expect(page.getByText('There is no note in it to play')).toBeVisible();
    await open('walk.mid', midiOf([67, 72, 69, 67]));
    await expect(notes).toHaveCount(4);
    await expect(notes.nth(1)).toHaveAccessibleName(/C5/);
  });

  await test.step('cards of chords have numbers too where they are asked for', async () => {
    await page.goto(
      `arrange/?signs=numbers&chords=${encodeURIComponent('key: G\nG | C | D7 | G')}`,
    );
    await expect(page.locator('[data-place] .select').nth(2)).toContainText('5⁷');
  });
});
