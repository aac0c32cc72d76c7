/** Charts of random setups in random layouts and habits, read back. */
import { describe, expect } from 'vitest';
import { faultText } from '$lib/faults';
import { readChart } from '$lib/formats/read/chart/readChart';
import { controlText } from '$lib/setup/controlText';
import { pitchText } from '$lib/theory/pitch';
import { battery } from '../battery';
import { chartText, randomHabit, randomMeant } from '../charts/randomCharts';

describe('charts', () => {
  battery(
    'of random setups in any layout read back as those setups',
    { slice: 40, whole: 5000 },
    ({ count, random }) => {
      for (let n = 0; n < count; n++) {
        const { meant, isUsual } = randomMeant(random);
        const habit = randomHabit(random, meant, isUsual);
        const text = chartText(meant, habit, random);
        const shown = `${JSON.stringify(habit)}\n${text}`;
        const read = readChart(text);
        if (!read.ok) throw new Error(`${faultText(read.error)}\n${shown}`);
        const { setup } = read.value;
        expect(
          setup.necks.map(({ strings }) => strings.map(({ open }) => open.midi)),
          shown,
        ).toEqual(meant.necks.map((strings) => strings.map(({ open }) => open.midi)));
        expect(setup.controls.map(controlText), shown).toEqual(meant.controls.map(controlText));
        if (!['line a string', 'line a control', 'sentences'].includes(habit.layout))
          expect(
            setup.necks.map(({ strings }) => strings.map(({ gauge }) => gauge)),
            shown,
          ).toEqual(meant.necks.map((strings) => strings.map(({ gauge }) => gauge)));
        expect(
          pitchText(
            setup.necks[0]?.strings[0]?.open ?? { letter: 'C', alter: 0, octave: 0, midi: 0 },
          ),
        ).not.toBe('');
      }
    },
  );
});
