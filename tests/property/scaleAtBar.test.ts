/** A scale under the bar against every combination of controls, tried one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combinations } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import { scaleAtBar } from '$lib/scales/atBar';
import { runs } from '../battery';
import { smallSetup } from './generators';

describe('a scale under the bar', () => {
  it('has what the strings have, and what each control alone adds', () => {
    fc.assert(
      fc.property(
        smallSetup,
        fc.integer({ min: 1, max: 4095 }),
        fc.integer({ min: 0, max: 12 }),
        (setup, pitchClasses, fret) => {
          const isIn = (midi: number): boolean => ((pitchClasses >> (midi % 12)) & 1) === 1;
          setup.necks.forEach(({ strings }, at) => {
            const neck = at + 1;
            const found = scaleAtBar(setup, { pitchClasses }, { neck, fret, engaged: [] });
            expect(found.map(({ string }) => string)).toEqual(strings.map((_, each) => each + 1));
            // what the hands and feet can do with one control, by walking all that they can do
            const single = [...combinations(setup)].filter((choice) => choice.length === 1);
            found.forEach(({ pitch, inScale, added }, string) => {
              const open = (strings[string]?.open.midi ?? 0) + fret;
              expect(pitch).toBe(open);
              expect(inScale).toBe(isIn(open));
              const wanted = single.flatMap((choice) => {
                const moved = open + (movesOf(setup, neck, choice)[string] ?? 0);
                return moved !== open && isIn(moved)
                  ? [`${choice[0]?.id}/${choice[0]?.state}/${moved}`]
                  : [];
              });
              const given = added.map(
                ({ control, pitch: to }) => `${control.id}/${control.state}/${to}`,
              );
              expect([...given].sort()).toEqual([...wanted].sort());
            });
          });
        },
      ),
      { numRuns: runs(60) },
    );
  });
});
