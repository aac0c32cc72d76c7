/** The rig: from pulls to rods, what the owner tells of the changer, and the way to another setup. */
import { expect, keptPageTest as test } from './page';

test('the rig follows what is told of the changer, says what it cannot do, and the way to another', async ({
  page,
}) => {
  await page.goto('bench/rig/');
  const rods = (id: string) => page.getByRole('table', { name: `${id}: its rods` });
  const problems = page.getByRole('list', { name: 'What cannot be done so' });

  await test.step('with nothing told it counts with usual values, and says so', async () => {
    await expect(rods('A').getByRole('row')).toHaveCount(3);
    await expect(
      page.getByText('Not entered, and taken as instruments usually have it'),
    ).toBeVisible();
    await expect(problems).toHaveCount(0);
    await expect(page.getByRole('complementary', { name: 'Take care' })).toContainText(
      'eye protection',
    );
  });

  await test.step('a finger with one raise has no place for a second', async () => {
    await page.getByText('Your changer').click();
    const raises = page.getByRole('textbox', { name: /^Raises of a finger/ });
    await raises.fill('1');
    await raises.press('Enter');
    await expect(problems).toContainText('String 5 needs 2 raises and 1 lower; yours has 1');
    await expect(problems).toContainText(/cannot raise string 5 by 2: .*its finger has 1/);
    const holes = page.getByRole('textbox', { name: /^Raise holes/ });
    await holes.fill('17, 21, x');
    await holes.press('Enter');
    await expect(holes).toHaveAttribute('aria-invalid', 'true');
    await holes.fill('17, 21.5, 27');
    await holes.press('Enter');
    await expect(problems).toHaveCount(0);
    await expect(rods('A')).toContainText(/17\.0 mm|21\.5 mm|27\.0 mm/);
  });

  await test.step('the way to another setup is told in the order of work, and the address keeps it', async () => {
    await page.getByRole('combobox', { name: 'Proposal' }).selectOption('universal12');
    const way = page.getByRole('table', { name: 'What changes' });
    await expect(way).toContainText('rod off');
    await expect(way).toContainText('to be bought');
    await expect(page).toHaveURL(/to=universal12/);
    await page.reload();
    await expect(way).toContainText('rod on');
    await expect(page.getByRole('button', { name: 'Save PDF' })).toHaveCount(2);
  });
});
