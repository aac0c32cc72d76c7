/** The site closed to what is not its own: script, hosts, and addresses that nobody meant. */
import { expect, keptPageTest as test } from './page';
import { PLACES } from './places';

test('every place forbids script that is not in the site’s own files', async ({ page }) => {
  for (const place of [...PLACES, 'no-such-place/']) {
    const html = await (await page.request.get(place)).text();
    const [, policy = ''] =
      /http-equiv="content-security-policy" content="([^"]*)"/u.exec(html) ?? [];
    const rules = new Map(
      policy.split(/;\s*/u).map((rule) => {
        const [name = '', ...allowed] = rule.split(' ');
        return [name, allowed];
      }),
    );
    expect(rules.get('default-src'), place).toEqual(["'none'"]);
    for (const name of ['object-src', 'base-uri', 'form-action'])
      expect(rules.get(name), place).toEqual(["'none'"]);
    // its own files, and by its hash the one line that starts the page (CSP level 3, section 6.7.2)
    const script = rules.get('script-src') ?? [];
    expect(script[0], place).toBe("'self'");
    for (const source of script.slice(1)) expect(source, place).toMatch(/^'sha256-[\w+/]{43}='$/u);
    // no script of its own stands outside what the rule covers
    expect(html, place).not.toMatch(/ on\w+="/u);
  }
});

test('script that finds its way into the page does not run, and nothing leaves it', async ({
  page,
  trouble,
}) => {
  trouble.allow(/Content Security Policy|Refused to|violates the following/u);
  await page.goto('');
  const blocked = await page.evaluate(async () => {
    const rules: string[] = [];
    document.addEventListener('securitypolicyviolation', (event) => {
      rules.push(event.effectiveDirective);
    });
    const script = document.createElement('script');
    script.textContent = 'document.title = "taken over"';
    document.body.append(script);
    const image = document.createElement('div');
    image.innerHTML = '<img src="data:," onerror="document.title = \'taken over\'">';
    document.body.append(image);
    await fetch('http://192.0.2.1/').catch(() => undefined);
    await new Promise((done) => setTimeout(done, 200));
    return [...new Set(rules)].sort();
  });
  expect(blocked).toEqual(['connect-src', 'script-src-attr', 'script-src-elem']);
  await expect(page).not.toHaveTitle('taken over');
  // TEST-NET-1 (RFC 5737): the request was stopped before it was sent
  expect(trouble.elsewhere(page.url())).toEqual([]);
});

test('hostile addresses open what can be opened, and say what cannot', async ({ page }) => {
  for (const address of [
    '?setup=__proto__&chord=constructor',
    `?chord=${'C'.repeat(10_000)}`,
    '?chord=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E',
    'change/?with=__proto__:1-1&with=LKV:99-99&at=1e9',
    'compare/?setup=../../etc&with=%00',
    `arrange/?chords=${'%7C'.repeat(2_000)}&locks=${'1=fret:1;'.repeat(300)}`,
    'bench/strings/?near=-1&beyond=NaN',
    'bench/tuning/?method=__proto__&chords=%3Cscript%3E',
    `open/#1.setup.${'A'.repeat(8)}.${'A'.repeat(50_000)}`,
    'sheet/?setup=%3Csvg%20onload%3D1%3E&paper=A0',
  ]) {
    await page.goto(address);
    await expect(
      page.getByRole('navigation', { name: 'Places' }),
      address.slice(0, 60),
    ).toBeVisible();
    await expect(page.locator('main img, main script'), address.slice(0, 60)).toHaveCount(0);
  }
});
