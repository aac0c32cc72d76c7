/** What axe says of a page, by the rules of WCAG 2.2 AA and good practice. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, type Page } from '@playwright/test';
import type Axe from 'axe-core';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** The rules of which light and dark can say different things. */
const OF_COLOURS = ['color-contrast', 'link-in-text-block'];

/** Rows of one list or table are made by one component: the first ones stand for all of them. */
const ALIKE = ['ol[aria-label^="Voicings"] > li:nth-child(n + 13)', 'tbody > tr:nth-child(n + 13)'];

/** Asks for all style sheets once more, a quarter of the time, and says the same of every state of a place. */
const OF_SHEETS = 'css-orientation-lock';
const sheetsRead = new Set<string>();

/** Read as text: as a module of the runner's it would only be taken apart there too. */
let source: string | undefined;
const axeSource = (): string =>
  (source ??= readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));

/** A text that three others stand for; axe is told not to judge its contrast, half of all its work. */
const SAME = 'data-same-contrast';

/**
 * Marks text that looks like three others before it: of the same colour, size, weight and shadow, on
 * the same grounds one over the other, in an element with the classes of theirs. Those three are in
 * view, covered by nothing, and longer than a sign, since axe judges nothing else. Runs in the page.
 */
function markSame(mark: string): void {
  const grounds = new Map<Element, string>();
  const groundOf = (element: Element | null): string => {
    if (element === null) return '';
    const known = grounds.get(element);
    if (known !== undefined) return known;
    const style = getComputedStyle(element);
    const own = [
      style.backgroundColor,
      style.backgroundImage,
      style.opacity,
      style.position,
      style.zIndex,
      style.filter,
      style.mixBlendMode,
    ].join();
    const plain = own === 'rgba(0, 0, 0, 0),none,1,static,auto,none,normal';
    const ground = groundOf(element.parentElement) + (plain ? '' : `${own} `);
    grounds.set(element, ground);
    return ground;
  };
  /** Of every element the text that stands in itself, which is what axe judges there. */
  const inked = new Map<Element, string>();
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { parentElement, nodeValue } = texts.currentNode;
    const text = nodeValue?.trim() ?? '';
    if (parentElement !== null && text !== '')
      inked.set(parentElement, (inked.get(parentElement) ?? '') + text);
  }
  const inView = (element: Element): boolean => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return at !== null && (element.contains(at) || at.contains(element));
  };
  const seen = new Map<string, number>();
  for (const [element, text] of inked) {
    // one sign is too short to be judged, says axe whatever its colours
    if (text.length === 1) {
      element.toggleAttribute(mark, true);
      continue;
    }
    const { color, fontSize, fontWeight, textShadow } = getComputedStyle(element);
    const classes = [element, element.parentElement].map((each) => each?.getAttribute('class'));
    const look = [element.tagName, color, fontSize, fontWeight, textShadow, ...classes].join();
    const key = `${look} on ${groundOf(element)}`;
    const before = seen.get(key) ?? 0;
    element.toggleAttribute(mark, before >= 3);
    if (before < 3 && /[\p{L}\d]{2}/u.test(text) && inView(element)) seen.set(key, before + 1);
  }
}

/**
 * The test goes on, so that what is wrong with a later state is told too. Where nothing but the colours
 * is other than at the last look, only the rules of `colours` are asked.
 */
export async function expectNoObjection(
  page: Page,
  what = 'the page',
  asked: 'everything' | 'colours' = 'everything',
): Promise<void> {
  const place = new URL(page.url()).pathname;
  const only = asked === 'colours' ? ({ type: 'rule', values: OF_COLOURS } as const) : undefined;
  const preload = only === undefined && !sheetsRead.has(place);
  if (preload) sheetsRead.add(place);
  // as long as the page is not loaded anew axe is still there
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeSource());
  await page.evaluate(markSame, SAME);
  const told = await page.evaluate(
    async ({ only, RULES, ALIKE, SAME, OF_SHEETS, preload }) => {
      const { axe } = window as unknown as { axe: typeof Axe };
      axe.configure({ rules: [{ id: 'color-contrast', selector: `:not([${SAME}])` }] });
      const { violations } = await axe.run(
        { exclude: ALIKE.map((alike) => [alike]) },
        {
          runOnly: only ?? { type: 'tag', values: RULES },
          // the page has no frames, and what passed is not asked for: both would double the time
          iframes: false,
          elementRef: false,
          resultTypes: ['violations'],
          preload,
          ...(preload ? {} : { rules: { [OF_SHEETS]: { enabled: false } } }),
        },
      );
      return violations.map(({ id, help, nodes }) => ({
        id,
        help,
        at: nodes.slice(0, 3).map(({ html, failureSummary }) => `${html} ${failureSummary ?? ''}`),
      }));
    },
    { only, RULES, ALIKE, SAME, OF_SHEETS, preload },
  );
  expect.soft(told, what).toEqual([]);
}
