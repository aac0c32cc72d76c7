/** The gauges that strings without one are usually strung with. */
import { edited, type Edited } from '$lib/setup/edits/edited';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import type { Setup, SetupString } from '$lib/setup/setup';
import { compassOf } from './compass';
import { gaugesFor } from './gauges';

type Wire = Pick<SetupString, 'gauge' | 'wound'>;

/** A string of a known set may be tuned so many semitones from there. */
const NEAR = 1;

/** The wire that the setups of the program have for a pitch or one beside it, the same string of a neck first. */
function fromSets(
  { midi }: SetupString['open'],
  string: number,
  strings: number,
): Wire | undefined {
  let best: { off: number; wire: Wire } | undefined;
  for (const { strings: set } of BUILT_IN_IDS.flatMap((id) => builtIn(id).necks))
    for (const [index, { open, gauge, wound }] of set.entries()) {
      const off = Math.abs(open.midi - midi);
      if (gauge === undefined || off > NEAR) continue;
      const apart = off * 4 + (index === string ? 0 : 1) + (set.length === strings ? 0 : 1);
      if (best === undefined || apart < best.off)
        best = { off: apart, wire: { gauge, ...(wound === true ? { wound } : {}) } };
    }
  return best?.wire;
}

/**
 * Every string that has no gauge gets the one that such strings have in the sets of the program's own setups, else
 * the middle one of those that suit its tension; where none suits it stays without.
 */
export function withUsualGauges(setup: Setup): Edited {
  return edited({
    ...setup,
    necks: setup.necks.map((neck, n) => ({
      ...neck,
      strings: neck.strings.map((string, index) => {
        if (string.gauge !== undefined) return string;
        const known = fromSets(string.open, index, neck.strings.length);
        if (known !== undefined) return { ...string, ...known };
        const { suiting } = gaugesFor(setup, string, compassOf(setup, n + 1, index + 1));
        const middle = suiting[Math.floor(suiting.length / 2)];
        return middle === undefined
          ? string
          : { ...string, gauge: middle.gauge, ...(middle.wound ? { wound: true } : {}) };
      }),
    })),
  });
}
