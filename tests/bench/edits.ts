/**
 * From an edit of the chart to everything that follows from it: the checked setup, the whole search
 * anew with its tally, the chart and the picture. Held against the bare rebuild of the index.
 */
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { countByType } from '$lib/coverage/typeShapes';
import { Instrument } from '$lib/engine/instrument';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { setPull } from '$lib/setup/edits/pulls';
import type { Setup } from '$lib/setup/setup';
import { controlsView } from '$lib/ui/explore/neckAdapter';
import { chartView } from '$lib/ui/bench/chartView';
import { picture } from '$lib/ui/bench/pullView';
import { medians, ms, print } from './measure';

const WANTED: readonly (readonly [BuiltInId, number])[] = [
  ['e9', 16],
  ['universal12', 50],
  ['double', 50],
];

/** A raise and back again, so that every run is an edit. */
function editsOf(setup: Setup): () => Setup {
  const cell = { id: setup.controls[0]?.id ?? '', neck: 1, string: 1 };
  let now = setup;
  let up = false;
  return () => {
    up = !up;
    const next = setPull(now, cell, up ? '+1' : '+2');
    if (!next.ok) throw new Error(next.error);
    return (now = next.value);
  };
}

export async function edits(): Promise<void> {
  console.log('From an edit to the updated search and picture (sizes 3-4, all necks)');
  const rows: string[][] = [];
  let times = 0;
  for (const [id, most] of WANTED) {
    const setup = builtIn(id);
    const edit = editsOf(setup);
    const took = await medians({
      edit,
      rebuild: () => setup.necks.map((_, neck) => new Instrument(setup).index(neck + 1)),
      all: () => {
        // another name is another setup, of which nothing is known yet
        const next = { ...edit(), name: `${id} ${++times}` };
        return [
          countByType(next, EVERYDAY_REPERTOIRE),
          chartView(next, 1),
          controlsView(next, 1, []),
          picture(next, 1, next.controls[0], []),
        ];
      },
    });
    const [one = NaN, rebuild = NaN, all = NaN] = took.values();
    rows.push([id, ms(one), ms(rebuild), ms(all), `${(all / rebuild).toFixed(2)} ×`, `${most} ms`]);
  }
  print(
    [
      'setup',
      'edit alone',
      'index rebuilt',
      'edit to picture',
      'against a rebuild',
      'wanted within',
    ],
    rows,
  );
}
