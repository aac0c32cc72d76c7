/** What a player has in view without scrolling: the instrument, what sounds, and the first rows. */
import { type Locator, type Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { BenchPage } from './benchPage';
import { expect, keptPageTest as test, type Gripwright } from './page';

/** What is promised of a window: the most that the header is high, the least rows that are seen whole. */
const SIZES = [
  { width: 1440, height: 900, header: 56, firstRow: 500, rows: 8 },
  { width: 820, height: 1100, header: 56, firstRow: 680, rows: 8 },
  { width: 360, height: 780, header: 48, firstRow: 590, rows: 3 },
  { width: 780, height: 360, header: 48, firstRow: 300, rows: 1 },
  { width: 2560, height: 1440, header: 56, firstRow: 640, rows: 14 },
] as const;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

async function boxOf(what: Locator): Promise<Box> {
  const box = await what.boundingBox();
  if (box === null) throw new Error('it is not to be seen');
  return box;
}

/** Rows that lie in view whole, and are covered by nothing. */
const rowsInView = (gripwright: Gripwright): Promise<number> =>
  gripwright.rows.evaluateAll(
    (rows) =>
      rows.filter((row) => {
        const { left, top, right, bottom } = row.getBoundingClientRect();
        return [top + 1, bottom - 1].every((y) =>
          row.contains(document.elementFromPoint((left + right) / 2, y)),
        );
      }).length,
  );

const pageScrolls = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollHeight - innerHeight);

async function expectWithin(page: Page, what: Locator, name: string): Promise<void> {
  const { width, height } = page.viewportSize() ?? { width: 0, height: 0 };
  const box = await boxOf(what);
  expect.soft(box.x, `${name}: left`).toBeGreaterThanOrEqual(0);
  expect.soft(box.y, `${name}: top`).toBeGreaterThanOrEqual(0);
  expect.soft(box.x + box.width, `${name}: right`).toBeLessThanOrEqual(width);
  expect.soft(box.y + box.height, `${name}: bottom`).toBeLessThanOrEqual(height + 0.5);
}

test('chord, name, neck, pedals, play and rows are in view at once, at every size', async ({
  page,
  gripwright,
}) => {
  test.setTimeout(120_000);
  await gripwright.open();
  for (const { width, height, header, firstRow, rows } of SIZES)
    await test.step(`${width} × ${height}`, async () => {
      await page.setViewportSize({ width, height });
      await expect(gripwright.rows.first()).toBeVisible();
      expect
        .soft((await boxOf(page.getByRole('banner'))).height, 'header')
        .toBeLessThanOrEqual(header);
      expect
        .soft((await boxOf(gripwright.rows.first())).y, 'first row')
        .toBeLessThanOrEqual(firstRow);
      await expect.poll(() => rowsInView(gripwright), 'rows in view').toBeGreaterThanOrEqual(rows);
      expect
        .soft(await pageScrolls(page), `the page itself at ${width} does not scroll`)
        .toBeLessThanOrEqual(0);
      for (const [name, what] of [
        ['chord', gripwright.chord],
        ['name', page.getByRole('region', { name: 'Neck' }).getByText('C major')],
        ['play', gripwright.play],
        ['bar', gripwright.bar],
        ['string 10', gripwright.string(10)],
        ['pedal A', gripwright.control('A')],
        ['lever RKR', gripwright.control('RKR')],
      ] as const)
        await expectWithin(page, what, name);
    });

  await test.step('on a phone play is within the reach of the thumb', async () => {
    await page.setViewportSize({ width: 360, height: 780 });
    const { y, height } = await boxOf(gripwright.play);
    expect(y + height / 2).toBeGreaterThan((780 * 2) / 3);
  });
  await test.step('on a phone that lies the neck is at the left, pedals and rows at the right', async () => {
    await page.setViewportSize({ width: 780, height: 360 });
    const neck = await boxOf(page.getByRole('group', { name: /^Neck/ }));
    for (const what of [gripwright.control('A'), gripwright.rows.first()])
      expect((await boxOf(what)).x).toBeGreaterThanOrEqual(neck.x + neck.width);
  });
  await test.step('column heads stand over the rows', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    const head = await boxOf(page.getByText('controls', { exact: true }));
    expect(head.y + head.height).toBeLessThanOrEqual((await boxOf(gripwright.rows.first())).y + 1);
    // each tone stands under the number of its string
    const number = await boxOf(page.locator('.heads').getByText('4', { exact: true }));
    const root = await boxOf(gripwright.rows.first().locator('.tone', { hasText: 'R' }));
    expect(Math.abs(number.x + number.width / 2 - root.x - root.width / 2)).toBeLessThan(2);
  });
});

test('the neck and the pedals stay while rows scroll, and a press on a row moves the bar', async ({
  page,
  gripwright,
}) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await gripwright.open();
  for (const [width, height] of [
    [1440, 900],
    [360, 780],
    [780, 360],
  ] as const)
    await test.step(`${width} × ${height}`, async () => {
      await page.setViewportSize({ width, height });
      const row = gripwright.rows.nth(12);
      await row.scrollIntoViewIfNeeded();
      await expect(gripwright.bar).toBeInViewport({ ratio: 0.9 });
      await expectWithin(page, gripwright.control('B'), 'pedal B');
      await gripwright.rows.nth(12).click();
      const fret = /^Fret (\d+)/.exec((await row.getAttribute('aria-label')) ?? '')?.[1];
      await gripwright.expectFret(Number(fret));
      await expect(gripwright.bar).toBeInViewport({ ratio: 0.9 });
      await gripwright.rows.first().click();
      await gripwright.expectFret(8);
    });
});

/** Tops that are promised of Change with a pull proposed, and of Compare, in CSS pixels; bottom is that of the picture. */
const ANSWERS = [
  { width: 1440, height: 900, picture: 160, bottom: 640, row: 460, answer: 80, chart: 220 },
  { width: 820, height: 1100, picture: 160, bottom: 780, row: 1090, answer: 80, chart: 250 },
  { width: 360, height: 780, picture: 170, bottom: 440, row: 2100, answer: 60, chart: 320 },
  { width: 780, height: 360, picture: 150, bottom: 400, row: 1040, answer: 60, chart: 250 },
  { width: 2560, height: 1440, picture: 160, bottom: 900, row: 240, answer: 80, chart: 230 },
] as const;

test('the answer comes first: the picture of a change beside its pull, the sentence of a comparison', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const picture = page.getByRole('region', { name: 'Chords under the bar by type and root' });
  const row = page
    .getByRole('region', { name: 'Voicings' })
    .getByRole('button', { name: /^Play: / })
    .first();
  await page.goto('change/?with=RKV:5%2B1&station=RKV');
  await expect(row).toBeVisible({ timeout: 30_000 });
  for (const { width, height, ...most } of ANSWERS)
    await test.step(`Change, ${width} × ${height}`, async () => {
      await page.setViewportSize({ width, height });
      await page.evaluate(() => scrollTo(0, 0));
      const box = await boxOf(picture);
      expect.soft(box.y, 'top of the picture').toBeLessThanOrEqual(most.picture);
      expect.soft(box.y + box.height, 'its bottom').toBeLessThanOrEqual(most.bottom);
      expect.soft((await boxOf(row)).y, 'first result').toBeLessThanOrEqual(most.row);
    });

  await test.step('on a phone the picture stays over what scrolls, and opens at the size of a finger', async () => {
    await page.setViewportSize({ width: 360, height: 780 });
    await row.scrollIntoViewIfNeeded();
    await expectWithin(page, picture, 'picture');
    await page.getByRole('button', { name: 'Enlarge the picture' }).click();
    const large = page.getByRole('dialog').getByRole('button', { name: /^C major: / });
    await expect(large).toBeVisible();
    const square = await boxOf(large);
    // 44 CSS pixels are a target (WCAG 2.2, 2.5.5)
    expect(Math.min(square.width, square.height)).toBeGreaterThanOrEqual(44);
    await expectNoObjection(page, 'the large picture on a phone');
    await large.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await expectNoObjection(page, 'Change on a phone');
  });
  await test.step('what is searched for stands beside the pull, what is easier first, each row by chord and move', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    const [pull, search] = [
      await boxOf(page.getByRole('region', { name: 'What is proposed' })),
      await boxOf(page.getByRole('region', { name: 'Suggest' })),
    ];
    expect(search.x).toBeGreaterThanOrEqual(pull.x + pull.width);
    expect(Math.abs(search.y - pull.y)).toBeLessThan(1);
    const lists = page.getByRole('group', { name: 'Which voicings' }).getByRole('button');
    await expect(lists.first()).toHaveText(/Easier/);
    await expect(row).toHaveAccessibleName(
      /^Play: [A-G]\S* \w+, with .*(pedal|lever).*, effort \d+\.\d to \d+\.\d, /,
    );
  });
  await test.step('the picture stays in view while results are read, beside the pull', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.getByRole('button', { name: / more$/ }).scrollIntoViewIfNeeded();
    await expectWithin(page, picture, 'picture');
    await expectWithin(page, page.getByRole('slider', { name: 'Bar', exact: true }), 'bar');
  });

  await test.step('its squares are told apart by their lightness alone, in both looks and in print', async () => {
    for (const media of [
      { colorScheme: 'light', media: 'screen' },
      { colorScheme: 'dark', media: 'screen' },
      { colorScheme: 'dark', media: 'print' },
    ] as const) {
      await page.emulateMedia(media);
      const steps = await lightnessOfSquares(page);
      // paper and at most five steps; what is ten apart in CIE L* can be told side by side (a just
      // noticeable difference is about 1; a tenth of the scale survives a poor printer: by choice)
      expect.soft(steps.length, JSON.stringify(media)).toBeLessThanOrEqual(6);
      steps.slice(1).forEach((step, at) => {
        expect
          .soft(step - (steps[at] ?? 0), `${JSON.stringify(media)}: ${steps.join()}`)
          .toBeGreaterThan(10);
      });
    }
    await page.emulateMedia({ colorScheme: null, media: null });
  });

  const sentence = page.getByRole('heading', { level: 2 }).first();
  const chart = page.getByRole('table', { name: /^By chord type/ });
  await page.goto('compare/');
  await expect(chart).toBeVisible({ timeout: 60_000 });
  await expect(sentence).toContainText(/more voicings in/);
  await expect(page.locator('details', { hasText: 'Compared by' }).first()).not.toHaveAttribute(
    'open',
  );
  for (const { width, height, ...most } of ANSWERS)
    await test.step(`Compare, ${width} × ${height}`, async () => {
      await page.setViewportSize({ width, height });
      expect.soft((await boxOf(sentence)).y, 'answer').toBeLessThanOrEqual(most.answer);
      expect.soft((await boxOf(chart)).y, 'top of the chart').toBeLessThanOrEqual(most.chart);
    });
});

/** CIE L* of the paper and of the squares of the picture's key, from dark to light; each once. */
const lightnessOfSquares = (page: Page): Promise<number[]> =>
  page.evaluate(() => {
    const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
    const lightness = (colour: string): number => {
      if (canvas === null) throw new Error('no canvas');
      canvas.fillStyle = colour;
      canvas.fillRect(0, 0, 1, 1);
      const linear = [...canvas.getImageData(0, 0, 1, 1).data.slice(0, 3)].map((byte) => {
        const share = byte / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      const [r = 0, g = 0, b = 0] = linear;
      const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
      // CIE 15: L* = 116 f(Y) - 16
      return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
    };
    const colours = [
      getComputedStyle(document.body).backgroundColor,
      ...[...document.querySelectorAll('.picture .scale .mark, .picture button.same .mark')].map(
        (mark) => getComputedStyle(mark).backgroundColor,
      ),
    ];
    return [...new Set(colours)].map(lightness).sort((a, b) => a - b);
  });

/** Of Arrange: the most from above at which the strip begins, and whether the first card is seen whole. */
const ARRANGE = [
  { width: 1440, height: 900, strip: 300 },
  { width: 820, height: 1100, strip: 300 },
  { width: 360, height: 780, strip: 260 },
  { width: 780, height: 360, strip: 160 },
] as const;

test('in Arrange the first chord, what can be done with it and play are in view, at every size', async ({
  page,
}) => {
  await page.goto('arrange/');
  const strip = page.getByRole('region', { name: 'Arrangement', exact: true });
  const play = page.getByRole('button', { name: 'Play', exact: true });
  for (const { width, height, strip: top } of ARRANGE)
    await test.step(`${width} × ${height}`, async () => {
      await page.setViewportSize({ width, height });
      const first = strip.getByRole('listitem').first();
      await expect(first).toBeVisible({ timeout: 20_000 });
      await expect(strip.getByRole('list')).toHaveAttribute('aria-busy', 'false');
      expect.soft((await boxOf(strip)).y, 'strip').toBeLessThanOrEqual(top);
      for (const [name, what] of [
        ['play', play],
        ['first card', first],
        ['another voicing', page.getByRole('button', { name: /^Another voicing for measure 1/ })],
        ['alternatives', page.getByRole('button', { name: 'Find alternatives' })],
        ['chords', page.getByRole('textbox', { name: 'Chords' })],
      ] as const)
        await expectWithin(page, what, name);
      // what is pressed to write lies unseen over the line that is read
      const chords = await boxOf(page.locator('.chords'));
      expect.soft(chords.height, 'what was read is one line').toBeLessThanOrEqual(48);
      const others = await boxOf(page.getByRole('button', { name: 'Find alternatives' }));
      expect
        .soft(others.y + others.height, 'alternatives stand above the strip')
        .toBeLessThanOrEqual((await boxOf(strip)).y);
      const [card, button] = [await boxOf(first), await boxOf(play)];
      expect.soft(card.y + card.height, 'play covers no card').toBeLessThanOrEqual(button.y);
    });
  await test.step('play stays under the thumb while the tablature is read', async () => {
    await page.setViewportSize({ width: 360, height: 780 });
    await page.getByRole('group', { name: 'Tablature as text' }).scrollIntoViewIfNeeded();
    await expectWithin(page, play, 'play');
    const { y, height } = await boxOf(play);
    expect(y + height / 2).toBeGreaterThan((780 * 2) / 3);
  });
});

for (const { place, names } of [
  { place: '', names: ['Play', 'More', 'Rows', 'Atlas', 'Limits'] },
  { place: 'arrange/', names: ['Play', 'Part'] },
])
  test(`with letters twice as large, what is pressed is whole and apart on a phone: /${place}`, async ({
    page,
  }) => {
    await page.setViewportSize({ width: 360, height: 780 });
    await page.goto(place);
    await page.addStyleTag({ content: 'html { font-size: 200% }' });
    const buttons = names.map((name) => page.getByRole('button', { name, exact: true }));
    for (const button of buttons) await expect(button).toBeVisible({ timeout: 20_000 });
    await page.evaluate(() => {
      scrollTo(0, document.documentElement.scrollHeight);
    });
    const needed = await page.evaluate(() => document.documentElement.scrollWidth);
    expect.soft(needed, 'nothing lies beyond the page').toBeLessThanOrEqual(360);
    const boxes = await Promise.all(buttons.map(boxOf));
    for (const [at, box] of boxes.entries()) {
      expect.soft(box.x, names[at]).toBeGreaterThanOrEqual(0);
      expect.soft(box.x + box.width, names[at]).toBeLessThanOrEqual(360);
      for (const [other, { x, y, width, height }] of boxes.entries())
        if (other > at)
          expect
            .soft(
              box.x + box.width <= x + 1 ||
                x + width <= box.x + 1 ||
                box.y + box.height <= y + 1 ||
                y + height <= box.y + 1,
              `${names[at]} and ${names[other]} are apart`,
            )
            .toBe(true);
    }
  });

test('with letters twice as large on the narrowest phone rows come clear of what is under the thumb', async ({
  page,
  gripwright,
}) => {
  // WCAG 2.2, 2.4.11: what has the focus is not hidden behind what stays in its place
  await page.setViewportSize({ width: 320, height: 640 });
  await gripwright.open();
  await page.addStyleTag({ content: 'html { font-size: 200% }' });
  for (const row of [gripwright.rows.first(), gripwright.rows.nth(4)]) {
    await row.focus();
    const [box, play] = [await boxOf(row), await boxOf(gripwright.play)];
    expect.soft(box.y).toBeGreaterThanOrEqual(0);
    expect.soft(box.y + box.height).toBeLessThanOrEqual(play.y);
    const effort = await boxOf(row.locator('.effort'));
    expect.soft(effort.x + effort.width).toBeLessThanOrEqual(box.x + box.width + 1);
  }
});

/** The farthest down that the tables of the Bench begin, by the window. */
const BENCH_SIZES = [
  { width: 1440, height: 900, copedent: 170, strings: 170, targets: 220 },
  { width: 820, height: 1100, copedent: 220, strings: 220, targets: 220 },
  { width: 360, height: 780, copedent: 220, strings: 220, targets: 220 },
  { width: 780, height: 360, copedent: 220, strings: 220, targets: 220 },
  { width: 2560, height: 1440, copedent: 170, strings: 170, targets: 220 },
] as const;

test('the Bench begins with its tables at every size, tools come with a head, and the tuner stays in view', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const bench = new BenchPage(page);
  const tops = async (what: Locator, most: 'copedent' | 'strings' | 'targets'): Promise<void> => {
    for (const size of BENCH_SIZES) {
      await page.setViewportSize(size);
      const { y } = await boxOf(what);
      expect.soft(y, `${most} at ${size.width} × ${size.height}`).toBeLessThanOrEqual(size[most]);
    }
  };

  await test.step('the copedent', async () => {
    await bench.open();
    await tops(bench.grid, 'copedent');
  });
  await test.step('tools stand at the head that is chosen, and nowhere else', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    await expect(bench.tools(/^(String|Control) /)).toHaveCount(0);
    for (const [head, name] of [
      [bench.string(3), 'String 3'],
      [bench.head('LKV'), 'Control LKV'],
    ] as const) {
      await head.click();
      const [at, tools] = [await boxOf(head), await boxOf(bench.tools(name))];
      expect(Math.abs(tools.y - at.y - at.height)).toBeLessThan(12);
      expect(tools.x).toBeLessThanOrEqual(at.x + at.width);
      await expectWithin(page, bench.tools(name), name);
    }
    await bench.cell('A', 5).click();
    await expect(bench.tools(/^(String|Control) /)).toHaveCount(0);
  });
  await test.step('the strings', async () => {
    await page.goto('bench/strings/');
    await tops(page.getByRole('table', { name: /what each string bears/ }), 'strings');
  });
  await test.step('the targets, and the tuner beside them or at the foot while they scroll', async () => {
    await page.goto('bench/tuning/');
    const targets = page.getByRole('table', { name: 'Tuning targets' });
    await expect(targets).toBeVisible({ timeout: 20_000 });
    await tops(targets, 'targets');
    for (const { width, height } of BENCH_SIZES) {
      await page.setViewportSize({ width, height });
      await page.evaluate(() => scrollTo(0, 300));
      await expectWithin(page, page.getByRole('button', { name: 'Listen' }), 'Listen');
      await expectWithin(page, page.getByText('1 → F♯4', { exact: true }).first(), 'the step');
    }
  });
});
