/**
 * How far the first arrangement of twelve pieces agrees with what a good player would do, what is repeated being played
 * alike: in no fewer measures than said with each.
 */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { withPasses } from '$lib/arrange/passes';
import { noWishes } from '$lib/arrange/wishes';
import { OTHER_PLAYED_PIECES } from './otherPlayedPieces';
import { PLAYED_PIECES, playedAs, type Placed } from './playedPieces';

describe('the first arrangement', () => {
  it.each([...PLAYED_PIECES, ...OTHER_PLAYED_PIECES])(
    'of $name is nearly what a good player does',
    ({ name, text, setup = 'e9', measures, agrees }) => {
      const { progression, piece, faults } = readProgression(text);
      expect(faults).toEqual([]);
      expect(measures).toHaveLength(progression.bars.length);
      const wishes = withPasses(noWishes(false), progression, piece);
      const [first] = arrange(builtIn(setup), progression, wishes, 1).ways;
      const placed = (first?.steps ?? []).flatMap(({ step, hold }): Placed[] =>
        step.slot === 0
          ? [{ fret: hold.fret, controls: hold.engaged.map(({ id }) => id).join(',') }]
          : [],
      );
      expect(placed).toHaveLength(measures.length);
      const other = measures.flatMap(([does], measure) => {
        const now = placed[measure];
        if (now === undefined || playedAs(does, now, placed[measure - 1])) return [];
        return [`measure ${measure + 1}: ${now.fret} ${now.controls || '-'}, not ${does}`];
      });
      const agreed = measures.length - other.length;
      console.log(`${name}: ${agreed} of ${measures.length} measures as said; ${other.join('; ')}`);
      expect(agreed, other.join('\n')).toBeGreaterThanOrEqual(agrees);
    },
  );
});
