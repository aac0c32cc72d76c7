/** Patterns of hand and time; times are worked out by hand at 60 beats a minute, so that beats are seconds. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { struckSteps, type Strikes } from '$lib/arrange/strike';
import type { Strike } from '$lib/arrange/strikeNames';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { tabText } from '$lib/formats/tabText';
import { tuneTab } from '$lib/formats/tuneTab';
import { heardTune, writtenTune } from '$lib/playing/tuneNotes';
import { tuneOf } from './ownTunes';

const E9 = builtIn('e9');
const PIECE = {
  ...tuneOf({ key: 'E', metre: [4, 4], tempo: 60 }, [
    ['E', '-:4'],
    ['A', '-:4'],
  ]),
};
const CHORDS = { texture: 'chords', harmony: 'changes', measures: [] } as const;
const [WAY] = arrangeTune(E9, PIECE, CHORDS, noWishes(false), 1).ways;
const struck = (strikes: Strikes) => struckSteps(E9, PIECE, WAY?.steps ?? [], strikes);
const all = (strike: Strike) => struck({ strike, parts: [] });
const times = (strike: Strike): (readonly [number, number])[] =>
  all(strike).map(({ onset }) => [onset.seconds, onset.lastsSeconds] as const);

describe('two chords of a measure each', () => {
  it('are struck again on each beat', () => {
    expect(times('beats')).toEqual([0, 1, 2, 3, 4, 5, 6, 7].map((at) => [at, 1]));
    for (const { strings, onset } of all('beats'))
      if (onset.seconds % 4 !== 0)
        expect(new Set(strings.map(({ reached }) => reached))).toEqual(new Set(['picked']));
  });

  it('are chopped on the back beats, and short', () => {
    expect(times('chop').map(([at]) => at)).toEqual([1, 3, 5, 7]);
    for (const [, lasts] of times('chop')) expect(lasts).toBeLessThan(0.5);
    const notes = writtenTune(all('chop'));
    for (const { duration } of notes) expect(duration).toBeLessThan(0.5);
  });

  it('are struck anew after a chop, which lets nothing ring on', () => {
    const chopThenWhole = struck({ strike: 'whole', parts: [{ from: 1, to: 1, strike: 'chop' }] });
    const [, last, next] = chopThenWhole;
    expect(last?.strike).toBe('chop');
    expect(next?.strike).toBe('whole');
    expect(new Set(next?.strings.map(({ reached }) => reached))).toEqual(new Set(['picked']));
    const first = writtenTune(chopThenWhole).filter(({ at }) => at < 4);
    expect(first.length).toBeGreaterThanOrEqual(3);
    for (const { duration } of first) expect(duration).toBeLessThan(0.5);
  });

  it('come after the beat, and end where they ended', () => {
    expect(times('late')).toEqual([
      [0.5, 3.5],
      [4.5, 3.5],
    ]);
  });

  it('come late by a value that is read at sight, and keep their length into a rest', () => {
    const tune = tuneOf({ key: 'E', metre: [4, 4], tempo: 60 }, [
      ['E', 'E4:1 -:1 G#4:1 F#4:1'],
      ['E', '-:2 B4:0.5 -:1.5'],
      ['E', 'B4:0.5 G#4:0.5 F#4:0.25 G#4:0.25 B4:0.5 E4:2'],
    ]);
    const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
    const [way] = arrangeTune(E9, tune, line, noWishes(false), 1).ways;
    const steps = struckSteps(E9, tune, way?.steps ?? [], { strike: 'late', parts: [] });
    const found = steps.flatMap(({ onset }) => [onset.seconds, onset.lastsSeconds]);
    // an eighth late and a quarter long; a sixteenth, which leaves a dotted eighth (an eighth would be more than a third
    // of the way to the next); the same before a bar line; a sixteenth of an eighth
    const sparse = [0.5, 1, 2.25, 0.75, 3.25, 0.75, 6.25, 0.5];
    // eighths give half of themselves, sixteenths are in time, half notes leave a dotted quarter
    const dense = [8.25, 0.25, 8.75, 0.25, 9, 0.25, 9.25, 0.25, 9.75, 0.25, 10.5, 1.5];
    const byHand = [...sparse, ...dense];
    expect(found).toHaveLength(byHand.length);
    byHand.forEach((seconds, at) => expect(found[at]).toBeCloseTo(seconds, 9));
  });

  it('are rolled from the lowest string up, or struck at once', () => {
    const starts = (strike: Strike): number[] => {
      const notes = heardTune(E9, all(strike)).filter(({ at }) => at < 2);
      return [...notes].sort((a, b) => a.midi - b.midi).map(({ at }) => at);
    };
    const rolled = starts('rolled');
    expect(rolled.length).toBeGreaterThanOrEqual(3);
    expect(rolled).toEqual([...rolled].sort((a, b) => a - b));
    expect(new Set(rolled).size).toBe(rolled.length);
    expect(new Set(starts('whole')).size).toBe(1);
  });

  it('are softer as a pad', () => {
    for (const { level } of writtenTune(all('pad'))) expect(level).toBeLessThan(0.5);
  });

  it('are bent into: struck without the controls that then take them there', () => {
    const steps = all('bend');
    const pulled = steps.filter(({ strings }) => strings.some(({ reached }) => reached === 'pull'));
    for (const step of pulled) {
      const before = steps[steps.indexOf(step) - 1];
      // bent from what the string sounds with nothing engaged, at the same fret
      if (before?.of === step.of) expect(before.way).toEqual([]);
      expect(step.hold.pitches).toEqual(WAY?.steps[step.of]?.hold.pitches);
    }
  });

  it('have their patterns by measure, and the tablature says where one begins', () => {
    const steps = struck({ strike: 'rolled', parts: [{ from: 2, to: 2, strike: 'chop' }] });
    expect(steps.map(({ strike }) => strike)).toEqual(['rolled', 'chop', 'chop']);
    const text = tabText(tuneTab(E9, PIECE, steps), 100);
    expect(text.match(/rolled|chop/gu)).toEqual(['rolled', 'chop']);
  });

  it('have them by section too', () => {
    const piece = {
      ...PIECE,
      measures: PIECE.measures.map((each, at) =>
        at === 1 ? { ...each, section: 'Chorus' } : each,
      ),
    };
    const steps = struckSteps(E9, piece, WAY?.steps ?? [], {
      parts: [{ section: 'chorus', strike: 'late' }],
    });
    expect(steps.map(({ strike }) => strike)).toEqual([undefined, 'late']);
  });
});

describe('palm harmonics', () => {
  const tune = tuneOf({ key: 'E', metre: [4, 4], tempo: 60 }, [
    ['E', 'B4:1 G#4:1 F#4:2'],
    ['E', 'E5:1 B4:1 G#4:2'],
    ['E', 'F#4:2 E4:2'],
  ]);
  const strikes: Strikes = { parts: [{ from: 2, to: 2, strike: 'harmonic' }] };
  const written = [71, 68, 66, 76, 71, 68, 66, 64];
  const inTexture = (texture: 'line' | 'thirds' | 'chord-melody') => {
    const wishes = { ...noWishes(false), strikes };
    const textures = { texture, harmony: 'changes', measures: [] } as const;
    const { ways, lacks } = arrangeTune(E9, tune, textures, wishes, 1);
    return { lacks, steps: struckSteps(E9, tune, ways[0]?.steps ?? [], strikes) };
  };

  it.each(['line', 'thirds', 'chord-melody'] as const)(
    'of a %s sound what is written',
    (texture) => {
      const { steps, lacks } = inTexture(texture);
      expect(lacks).toEqual([]);
      // a string touched twelve frets beyond the bar sounds an octave above what the bar stops
      const heardAt = (seconds: number): number =>
        Math.max(
          ...heardTune(E9, steps)
            .filter(({ at, duration }) => at < seconds + 0.5 && at + duration > seconds + 0.6)
            .map(({ midi, harmonic, glides = [] }) => {
              const now = glides.findLast(({ at }) => at <= seconds + 0.5)?.to ?? midi;
              return now + (harmonic === true ? 12 : 0);
            }),
        );
      expect([0, 1, 2, 4, 5, 6, 8, 10].map((at) => Math.round(heardAt(at)))).toEqual(written);
      const harmonics = heardTune(E9, steps).filter(({ harmonic }) => harmonic === true);
      expect(harmonics.length).toBeGreaterThan(0);
      for (const { at } of harmonics) expect(at >= 4 && at < 8).toBe(true);
    },
  );

  it('are written to files as they sound, and into the tablature where they are touched', () => {
    const { steps } = inTexture('line');
    expect(writtenTune(steps).every(({ harmonic }) => harmonic === undefined)).toBe(true);
    const highest = Math.max(...writtenTune(steps).map(({ midi }) => midi));
    expect(highest).toBeLessThanOrEqual(76);
    const text = tabText(tuneTab(E9, tune, steps), 100);
    expect(text.match(/harmonic|as usual/gu)).toEqual(['harmonic', 'as usual']);
  });

  // seven frets beyond the bar lies a third of the string, which sounds an octave and a fifth up; five beyond a
  // quarter, which sounds two octaves: 12·log2(3/2) = 7.02, 12·log2(4/3) = 4.98
  it.each([
    ['twelfth', 7, 19],
    ['fifteenth', 5, 24],
  ] as const)('of a %s are touched %i frets beyond the bar', (strike, frets, above) => {
    const high = tuneOf({ key: 'E', metre: [4, 4], tempo: 60 }, [['E', 'E5:1 B5:1 G#5:2']]);
    const wishes = { ...noWishes(false), strikes: { strike, parts: [] } };
    for (const texture of ['line', 'thirds', 'chord-melody'] as const) {
      const textures = { texture, harmony: 'changes', measures: [] } as const;
      const { ways, lacks } = arrangeTune(E9, high, textures, wishes, 1);
      const steps = struckSteps(E9, high, ways[0]?.steps ?? [], wishes.strikes);
      expect(steps.map(({ hold }) => Math.max(...hold.pitches) + above)).toEqual([76, 83, 80]);
      // the strings of a chord a twelfth up would be another chord
      const isAlone = texture === 'chord-melody' && strike === 'twelfth';
      expect(lacks.map((each) => each.lacks)).toEqual(isAlone ? ['chord'] : []);
      const heard = heardTune(E9, steps).filter(({ string }) => string > 0);
      expect(heard.every(({ harmonic }) => harmonic === true)).toBe(true);
      // a note is heard where its string was struck or bent to
      const highest = heard.map(({ midi, glides = [] }) =>
        Math.max(midi, ...glides.map(({ to }) => to)),
      );
      expect(Math.round(Math.max(...highest) + 12)).toBe(83);
      expect(Math.max(...writtenTune(steps).map(({ midi }) => midi))).toBeLessThanOrEqual(83);
      // and below them the notes of the tune, as they sound
      expect(tabText(tuneTab(E9, high, steps), 100)).toMatch(/^ .*E5.* .*B5.* .*G♯5/mu);
      const touched = [...tabText(tuneTab(E9, high, steps), 100).matchAll(/(\d+)<(\d+)>/gu)];
      expect(touched.length).toBeGreaterThan(0);
      for (const [, bar, touch] of touched) expect(Number(touch) - Number(bar)).toBe(frets);
    }
  });

  it('are left where no string is so low, and that is told', () => {
    const low = tuneOf({ key: 'E', metre: [4, 4], tempo: 60 }, [['E', 'E3:2 B4:2']]);
    const wishes = { ...noWishes(false), strikes: { strike: 'harmonic' as const, parts: [] } };
    const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
    const { ways, lacks } = arrangeTune(E9, low, line, wishes, 1);
    // the lowest string of an E9 is B2
    expect(lacks.map(({ lacks: what, onset }) => [what, onset.at])).toEqual([['wish', 0]]);
    const steps = struckSteps(E9, low, ways[0]?.steps ?? [], wishes.strikes);
    expect(steps.map(({ strike }) => strike)).toEqual(['whole', 'harmonic']);
    expect(writtenTune(steps).map(({ midi }) => midi)).toEqual([52, 71]);
  });
});
