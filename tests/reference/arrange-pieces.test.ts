/** How far the first arrangement of six pieces agrees with what a good player would do. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { PLAYED_PIECES, playedAs, type Placed } from './playedPieces';

const e9 = builtIn('e9');

describe('the first arrangement', () => {
  it.each(PLAYED_PIECES)(
    'of $name is nearly what a good player does',
    ({ name, text, measures }) => {
      const { progression, faults } = readProgression(text);
      expect(faults).toEqual([]);
      expect(measures).toHaveLength(progression.bars.length);
      const [first] = arrange(e9, progression, noWishes(false), 1).ways;
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
      expect(agreed / measures.length, other.join('\n')).toBeGreaterThanOrEqual(0.9);
    },
  );
});
