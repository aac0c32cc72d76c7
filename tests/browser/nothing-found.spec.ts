/** An empty answer says why, and what it offers works. */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('nothing found, or nothing read, says so and offers what works', async ({
  page,
  gripwright,
}) => {
  await test.step('nothing found says so and offers what would work', async () => {
    // On open strings no control makes string 3 (G♯, or A with pedal B) a tone of C, so strings 3, 4, 5
    // together never play it at fret 0.
    await gripwright.open('?chord=C&frets=0&grip=3,4,5');
    await expect(page.getByText('Nothing on this setup plays C within the limits.')).toBeVisible();
    await expect(gripwright.heading).toContainText('0 voicings');

    const offer = page.getByRole('button', { name: /^Look along the whole neck: \d+$/ });
    const promised = /\d+$/.exec(await offer.innerText())?.[0];
    await offer.click();
    await expect(gripwright.heading).toContainText(`${promised} voicings`);
    // nothing at f on the grip 3-4-5 (common practice)
    await expect(gripwright.rows.first()).toHaveAccessibleName(
      /^Fret 8, nothing engaged, strings 3 4 5/,
    );
    await expect(page).toHaveURL(/\?grip=3,4,5$/);
  });

  await test.step('a slanted bar is offered where only a slant does it', async () => {
    // Six strings in C6: strings 2, 3, 4 are C4 A3 G3. Straight they are never a minor chord. With the
    // bar on fret f at string 4 and two frets further at string 2, string 3 is stopped at f + 1: at
    // f = 1 they sound D♯ B G♯, that is G♯ minor; once more an octave up, where the bar is turned half as
    // far, and nowhere else.
    await gripwright.open('?setup=lap6-c6&chord=G%23m&grip=2,3,4&slants=off');
    await expect(page.getByText(/^Nothing on this setup plays G♯m/)).toBeVisible();
    await page.getByRole('button', { name: 'Slant the bar: 2' }).click();
    // one row: octaves of a position are folded
    await expect(gripwright.rows).toHaveCount(1);
    const [name] = await gripwright.rowNames();
    expect(name).toMatch(/^Slanted bar, fret 13 near and 15 far, nothing.*, also at fret 1$/);
    expect(await gripwright.rowNotes()).toEqual([['D♯5', 'B4', 'G♯4']]);
    await expect(gripwright.bar).toHaveAttribute('aria-valuetext', /^fret 13, slanted 2 higher/);
  });

  await test.step('an unreadable chord in the address offers chords to begin with', async () => {
    await gripwright.open('?chord=zzz');
    await expect(gripwright.chord).toHaveValue('zzz');
    await expect(gripwright.chord).toHaveAttribute('aria-invalid', 'true');
    await page.getByRole('button', { name: 'Am7', exact: true }).click();
    await expect(gripwright.chord).toHaveValue('Am7');
    await expect(gripwright.heading).toContainText(/^Am7 /);
    await expect(gripwright.rows.first()).toBeVisible();
  });
});

test('an address that leads nowhere says so, and leads on', async ({ page, trouble }) => {
  trouble.allow(/404|Not found/);
  await page.goto('no-such-place/');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('There is no such page');
  await expectNoObjection(page);
  await page.getByRole('main').getByRole('link', { name: 'Explore' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Explore');
});
