/** Staff and tablature on paper: a piece that has room on one page stands on one, and its code with it. */
import { expect, it } from 'vitest';
import { arrangeTune } from '$lib/arrange/tune';
import { struckSteps } from '$lib/arrange/strike';
import { noWishes } from '$lib/arrange/wishes';
import { readAbc } from '$lib/formats/read/abc';
import type { Drawing } from '$lib/formats/drawing';
import { builtIn } from '$lib/setup/builtIns';
import { drawnStaff } from '../../../src/cli/staffFile';
import { TRADITIONAL } from '../arrange/traditional';

const E9 = builtIn('e9');
const read = readAbc(TRADITIONAL.Greensleeves ?? '');
if (!read.ok || read.value.piece === undefined) throw new Error('it cannot be read');
const { piece } = read.value;
const asked = { texture: 'sixths', harmony: 'changes', measures: [] } as const;
const [best] = arrangeTune(E9, piece, asked, noWishes(false), 1).ways;
const tune = { setup: E9, piece, signs: 'letters' as const };
const steps = struckSteps(E9, piece, best?.steps ?? [], undefined);

/** A code as dense as one that carries the whole tune. */
const code = {
  address: 'https://example.org/steel/',
  link: { ok: true as const, value: 'a1'.repeat(300) },
  opens: 'this piece',
};

const wordsOf = ({ pages }: Drawing): string[] =>
  pages.flatMap(({ marks }) => marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])));

it('eight measures in sixths stand on one page with their code, and nothing beyond its foot', () => {
  const drawing = drawnStaff({ ...tune, steps }, 'A4', code);
  expect(drawing.pages).toHaveLength(1);
  const words = wordsOf(drawing);
  expect(words).toContain('Greensleeves');
  expect(words).toContain('On a screen');
  // the foot's line lies 18 mm above the edge of the paper: 14 of margin and 4 of its own
  const [page] = drawing.pages;
  const lowest = Math.max(
    ...(page?.marks.flatMap((mark) =>
      mark.kind === 'text' && mark.text !== 'Greensleeves' ? [mark.y] : [],
    ) ?? []),
  );
  expect(lowest).toBeLessThan(297 - 18);
});
