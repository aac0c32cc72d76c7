/**
 * Drawings as whole files, in `tests/golden/`: what a change moves on paper is seen there at a glance.
 * That what stands on them is right is said from outside by the tests beside this one.
 */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Choice } from '$lib/setup/reach';
import { benchSheet } from '$lib/formats/benchSheet';
import { comparisonChart, type PaperChart } from '$lib/formats/comparisonChart';
import type { Drawing } from '$lib/formats/drawing';
import type { SheetExtras } from '$lib/formats/sheetExtras';
import { sheetFigures } from '$lib/formats/sheetFigures';
import { svgText } from '$lib/formats/svg';
import { tabDrawing } from '$lib/formats/tabDrawing';
import type { TabPiece, TabStep, TabVoicing } from '$lib/formats/tablature';
import { golden } from '../../golden';

const FONT = /(?<=url\(data:font\/\w+;base64,)[^)]+/gu;

/** The file of a drawing, without the bytes of its fonts, which come from their packages. */
async function drawn(drawing: Drawing, name: string): Promise<void> {
  const file = svgText(drawing);
  expect(file.match(FONT)?.length ?? 0).toBeGreaterThan(0);
  await golden(file.replace(FONT, 'FONT'), `${name}.svg`);
}

it('the sheet of E9 as the command line draws it, with what its strings bear', async () => {
  const e9 = builtIn('e9');
  await drawn(benchSheet(e9, { paper: 'A4', extras: sheetFigures(e9) }), 'sheet-e9');
});

it('the bench sheet of two necks on other paper, with lines of another part of the program', async () => {
  const double = builtIn('double');
  const extras: SheetExtras = {
    strings: [
      {
        heading: 'Cents',
        cells: double.necks.flatMap(({ strings }, neck) =>
          strings.map((_, at) => ({ neck: neck + 1, string: at + 1, text: `−${at}.5` })),
        ),
      },
    ],
    controls: [{ heading: 'Work', cells: [{ control: 'A', text: '0.12 J' }] }],
  };
  await drawn(benchSheet(double, { paper: 'Letter', extras }), 'sheet-double');
});

it('tablature with every kind of move, sections, a rest, and more measures than fit on a line', async () => {
  const full = (...ids: string[]): Choice => ids.map((id) => ({ id, state: 'full' }));
  const at = (fret: number, strings: readonly number[], engaged: Choice = []): TabVoicing => ({
    neck: 1,
    strings,
    frets: strings.map(() => fret),
    engaged,
  });
  // where the chords lie is common practice of the trade; on string 2 D sharp, half lowered and raised
  // by eight frets, is the B flat of C7
  const round: readonly Omit<TabStep, 'bar'>[] = [
    { chord: 'C', beats: 4, section: 'Verse', voicing: at(8, [4, 5, 6]) },
    { chord: 'F', beats: 2, voicing: at(8, [4, 5, 6], full('A', 'B')) },
    { chord: 'Am', beats: 2, voicing: at(8, [4, 5, 6], full('A')) },
    { chord: 'G', beats: 4, voicing: at(3, [4, 5, 6]) },
    { chord: 'N.C.', beats: 4 },
    { chord: 'G', beats: 4, section: 'Refrain', voicing: at(10, [3, 4, 5], full('A', 'B')) },
    { chord: 'C', beats: 2, voicing: at(11, [3, 4, 5], full('A', 'LKL')) },
    { chord: 'C7', beats: 2, voicing: at(8, [2, 4, 5], [{ id: 'RKR', state: 'half' }]) },
  ];
  const bars = [1, 2, 2, 3, 4, 5, 6, 6];
  const steps = [0, 1, 2].flatMap((time) =>
    round.map((step, place) => ({ ...step, bar: 6 * time + (bars[place] ?? 1) })),
  );
  const piece: TabPiece = { title: 'Lantern Road', setup: builtIn('e9'), steps };
  await drawn(tabDrawing(piece), 'tablature');
});

it('the chart of a comparison', async () => {
  const row = (label: string, a: number, b: number): PaperChart['rows'][number] => ({
    label,
    a: { share: a / 400, text: String(a) },
    b: { share: b / 400, text: String(b) },
    stronger: a === b ? undefined : a > b ? 'a' : 'b',
    lead:
      a === b
        ? 'equal'
        : b === 0 || a === 0
          ? 'alone'
          : `${(Math.max(a, b) / Math.min(a, b)).toFixed(1)} ×`,
  });
  const rows = [row('major', 400, 200), row('m7♭5', 30, 90), row('7♯9', 0, 12), row('aug', 8, 8)];
  const what = 'voicings of one chord';
  await drawn(comparisonChart({ a: 'Lantern & Sons', b: 'Millpond', what, rows }), 'comparison');
});
