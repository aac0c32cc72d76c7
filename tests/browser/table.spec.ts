/** The neck the other way round: what is this that I hold? */
import { expect, keptPageTest as test, type Gripwright } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

/** Puts the bar at a fret from wherever it is, with the keys that a slider has. */
async function barTo(gripwright: Gripwright, fret: number): Promise<void> {
  await gripwright.bar.press('Home');
  for (let at = 1; at <= fret; at++) await gripwright.bar.press('ArrowRight');
  await gripwright.expectFret(fret);
}

test.describe('touching the neck asks what it is', () => {
  test.beforeEach(async ({ gripwright }) => {
    await gripwright.open('?chord=Dm7');
  });

  // Common practice: A+B is A + f, so at fret 3 it is C.
  test('A and B at fret 3 on strings 3, 4, 5 are C, with the mouse', async ({
    page,
    gripwright,
  }) => {
    const picked = page.getByRole('toolbar').getByRole('button', { pressed: true });
    while ((await picked.count()) > 0) await picked.first().click();
    await expect(page.getByText('Pick some strings', { exact: true })).toBeVisible();
    await expect(gripwright.play).toBeDisabled();
    for (const string of [3, 4, 5]) await gripwright.string(string).click();
    const engaged = page
      .getByRole('group', { name: 'Pedals and levers' })
      .getByRole('button', { pressed: true });
    while ((await engaged.count()) > 0) await engaged.first().click();

    await barTo(gripwright, 3);
    await gripwright.control('A').click();
    await gripwright.control('B').click();
    await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'true');
    await gripwright.expectName('C major over E');
    await gripwright.expectPicked(3, 4, 5);
    // string 5 is raised from B to C♯, three frets up E; string 3 from G♯ to A, up C
    await expect(gripwright.string(5)).toHaveAccessibleName(
      'String 5, B 3, raised 2 semitones, sounds third, E 4',
    );
    await expect(gripwright.string(3)).toHaveAccessibleName(
      'String 3, G sharp 4, raised 1 semitone, sounds root, C 5',
    );
    // C E G is also A minor seventh without its root: beside a plain triad that is told when it is asked for
    await expect(page.getByRole('region', { name: 'Neck' })).not.toContainText('A minor seventh');
    await gripwright.unfold('Other names');
    await expect(gripwright.more).toContainText('A minor seventh');
    await expect(gripwright.play).toBeEnabled();
  });
});

test.describe('pedals and levers', () => {
  test('let go of one another as knees and feet do, say why, and bend strings as far as they go', async ({
    gripwright,
    page,
  }) => {
    await gripwright.open();

    await test.step('takes a lever with a half-stop from off to full to half to off', async () => {
      const lever = gripwright.control('RKR');
      await expect(lever).toHaveAttribute('aria-pressed', 'false');
      await lever.click();
      await expect(lever).toHaveAttribute('aria-pressed', 'true');
      // all the way string 2 goes from D♯ to C♯ and string 9 from D to C♯
      await expect(gripwright.string(2)).toHaveAccessibleName(/lowered 2 semitones, sounds A 4/);
      await expect(gripwright.string(9)).toHaveAccessibleName(/lowered 1 semitone, sounds A 3/);
      await lever.click();
      await expect(lever).toHaveAttribute('aria-pressed', 'mixed');
      // at the half-stop string 2 is D, and string 9 is left alone
      await expect(gripwright.string(2)).toHaveAccessibleName(/lowered 1 semitone, half-stop/);
      await expect(gripwright.string(9)).not.toHaveAccessibleName(/lowered/);
      await lever.click();
      await expect(lever).toHaveAttribute('aria-pressed', 'false');
      await expect(gripwright.string(2)).not.toHaveAccessibleName(/lowered/);
    });

    await test.step('lets go of a lever that the same knee cannot hold as well, and says why', async () => {
      await gripwright.control('LKL').click();
      await gripwright.control('LKR').click();
      await expect(gripwright.control('LKL')).toHaveAttribute('aria-pressed', 'false');
      await expect(gripwright.control('LKR')).toHaveAttribute('aria-pressed', 'true');
      await expect(
        page.getByRole('status').filter({ hasText: 'the left knee moves one way at a time' }),
      ).toHaveText(/^LKL let go: /);
    });

    await test.step('lets go of a pedal that one foot cannot hold as well, and says why', async () => {
      await gripwright.control('A').click();
      await gripwright.control('C').click();
      await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'false');
      await expect(page.getByText(/^A let go: .*neighbours/)).toBeVisible();
    });

    await test.step('splits string 5 with A and LKV', async () => {
      await gripwright.bar.press('Home');
      await gripwright.control('A').click();
      await gripwright.control('LKV').click();
      // B raised by two and lowered by one: C (common practice)
      await expect(gripwright.string(5)).toHaveAccessibleName(/raised 1 semitone, sounds .*C 4/);
    });
  });
});

test.describe('the bar', () => {
  test('is dragged along the neck, and a tap on the neck puts it there', async ({
    page,
    gripwright,
  }) => {
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await gripwright.open();
    const middle = async (): Promise<{ x: number; y: number }> => {
      const box = await gripwright.bar.boundingBox();
      if (!box) throw new Error('the bar is not to be seen');
      return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    };
    const at8 = await middle();
    await gripwright.bar.press('Home');
    const nut = await middle();
    // fret n lies at L · (1 − 2^(−n/12)) from the nut
    const share = (fret: number): number => 1 - 2 ** (-fret / 12);
    const xOf = (fret: number): number => nut.x + ((at8.x - nut.x) * share(fret)) / share(8);

    await page.mouse.move(nut.x, nut.y);
    await page.mouse.down();
    await page.mouse.move(xOf(2), nut.y, { steps: 4 });
    await page.mouse.move(xOf(3), nut.y, { steps: 4 });
    await page.mouse.up();
    await gripwright.expectFret(3);
    // with nothing pressed E + 3, and under it string 5, B + 3
    await gripwright.expectName('G major over D');

    const numbers = (await gripwright.string(10).boundingBox()) ?? { y: 0, height: 0 };
    await page.mouse.click(xOf(12), numbers.y + numbers.height + 20);
    await gripwright.expectFret(12);
    await gripwright.expectName('E major over B');
    await gripwright.expectPicked(3, 4, 5);
  });
});
