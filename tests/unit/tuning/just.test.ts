import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { heardPitches } from '$lib/tuning/heard';
import { justCents } from '$lib/tuning/just';

describe('just intonation over a root', () => {
  it('is the scale that Malcolm printed, in cents as hmt-0.20 lists them', () => {
    const cents = Array.from({ length: 12 }, (_, step) =>
      Math.round(100 * step + justCents(60 + step, 0)),
    );
    expect(cents).toEqual([0, 112, 204, 316, 386, 498, 590, 702, 814, 884, 996, 1088]);
  });

  // "List of intervals in 5-limit just intonation" and Mills' tuning list, 2 decimals
  it.each([
    [4, -13.69],
    [3, 15.64],
    [7, 1.955],
    [9, -15.64],
    [2, 3.91],
  ])('%i semitones lie %f cents off equal temperament', (semitones, cents) => {
    expect(justCents(60 + semitones, 0)).toBeCloseTo(cents, 1);
  });

  it('turns with the root, and knows no octaves', () => {
    expect(justCents(71, 7)).toBeCloseTo(justCents(64, 0), 10);
    expect(justCents(40, 0)).toBeCloseTo(justCents(76, 0), 10);
  });
});

describe('what is heard of a grip', () => {
  const e9 = builtIn('e9');
  // C at fret 8 with nothing pressed, strings 3, 4, 5: E5 C5 G4 (common practice)
  const hands = { neck: 1, fret: 8, slant: 0, engaged: [], strings: [3, 4, 5] };

  it('is what is named, in equal temperament', () => {
    expect(heardPitches(e9, hands, 'equal').map(({ midi }) => midi)).toEqual([76, 72, 67]);
  });

  it('or just over the root', () => {
    const just = heardPitches(e9, hands, 'just', 0).map(({ midi }) => midi);
    // 5/4 and 3/2 over C: 3.8631 and 7.0196 semitones
    [75.8631, 72, 67.0196].forEach((midi, place) => expect(just[place]).toBeCloseTo(midi, 3));
  });

  it('without a root nothing is just over anything', () => {
    expect(heardPitches(e9, hands, 'just')).toEqual(heardPitches(e9, hands, 'equal'));
  });

  it('under a slanted bar too', () => {
    // strings 4 and 5 of an E9, E and B; the far end one fret ahead raises the far string
    const slanted = { ...hands, strings: [4, 5], slant: 1 };
    expect(heardPitches(e9, slanted, 'equal').map(({ midi }) => midi)).toEqual([73, 67]);
  });
});
