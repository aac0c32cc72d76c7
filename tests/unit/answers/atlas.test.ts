/** The atlas against the voicings that the plain question finds, and against what every player knows. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesOf } from '$lib/theory/names';
import { homeRoot } from '$lib/setup/homeChord';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf } from '$lib/theory/pitch';
import { prettySymbol } from '$lib/theory/display';
import { builtIn } from '$lib/setup/builtIns';
import { engagedText } from '$lib/setup/engagedText';
import { combinations } from '$lib/setup/reach';
import { sounding } from '$lib/setup/sounding';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { answer } from '$lib/answers/answer';
import { atlasOf, type Atlas } from '$lib/answers/atlas';
import { readQuestion, type Question, type QuestionTexts } from '$lib/answers/question';
import { smallSetup } from '../../property/generators';

function question(setup: Setup, texts: QuestionTexts): Question {
  const read = readQuestion(setup, texts);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

/** `A+B@3` for every place that is marked. */
const marked = (atlas: Atlas): string[] =>
  atlas.rows
    .flatMap(({ engaged, wanted }) => wanted.map(({ fret }) => `${engagedText(engaged)}@${fret}`))
    .sort();

const nameAt = (atlas: Atlas, way: string, fret: number): string | undefined => {
  const row = atlas.rows.find(({ engaged }) => engagedText(engaged) === way);
  return row && atlas.names[row.names[fret % 12] ?? -1]?.text;
};

describe('on E9 (where the chords lie: common practice of the trade)', () => {
  const setup = builtIn('e9');
  const all = atlasOf(setup, 1, question(setup, { chord: 'C' }));

  it.each([
    ['', 0, 'E'],
    ['', 8, 'C'],
    ['A+B', 3, 'C'],
    ['A', 0, 'C♯m'],
    ['A', 8, 'Am'],
    ['LKR', 1, 'Am'],
    ['B+C', 3, 'Am'],
    ['LKL', 0, 'Fdim'],
  ])('“%s” at fret %i is %s', (way, fret, name) => {
    expect(nameAt(all, way, fret)).toBe(name);
  });

  it('marks the three positions of a major chord within the octave', () => {
    expect(marked(all)).toEqual(expect.arrayContaining(['@8', 'A+B@3', 'A+LKL@11']));
  });

  it('names one grip, and leaves out what does not touch it', () => {
    const grip = atlasOf(setup, 1, question(setup, { chord: 'C' }), [4, 5, 6]);
    expect(nameAt(grip, '', 8)).toBe('C');
    // RKR pulls strings 2 and 9 alone
    expect(grip.rows.some(({ engaged }) => engagedText(engaged) === 'RKR')).toBe(false);
    for (const { strings } of grip.rows) expect(strings).toEqual([4, 5, 6]);
  });

  it('spells by the key and gives the degrees', () => {
    const inKey = atlasOf(setup, 1, question(setup, { chord: 'C', key: 'Eb' }));
    const row = inKey.rows[0];
    const name = inKey.names[row?.names[4] ?? -1];
    // nothing pressed at fret 4 is A♭, the fourth degree of E♭
    expect([name?.text, name?.numeral?.text]).toEqual(['A♭', 'IV']);
    expect(inKey.wanted.numeral?.text).toBe('VI');
  });
});

describe('the marks', () => {
  it.each(['C', 'G13', 'F/C', 'Am7'])(
    'are where the plain question finds %s, at every straight way',
    (chord) => {
      const setup = builtIn('e9');
      const asked = question(setup, { chord });
      const found = answer(setup, asked);
      const places = new Set<string>();
      for (let place = 0; place < found.count; place++) {
        const { fret, ways } = found.at(place).voicing;
        for (const way of ways) places.add(`${engagedText(way)}@${fret}`);
      }
      const atlas = atlasOf(setup, 1, asked);
      // rows that move all strings alike stand once, under the easiest way; E9 has no two such
      expect(marked(atlas)).toEqual([...places].sort());
    },
  );

  it('keep to the limits of the question', () => {
    const setup = builtIn('e9');
    const atlas = atlasOf(
      setup,
      1,
      question(setup, { chord: 'C', frets: '0-11', top: 'E5', without: 'LKL', grip: '3,4,5' }),
    );
    expect(atlas.rows.some(({ engaged }) => engaged.some(({ id }) => id === 'LKL'))).toBe(false);
    for (const { engaged, wanted } of atlas.rows)
      for (const { fret, strings } of wanted) {
        expect(fret).toBeLessThanOrEqual(11);
        expect(strings.every((string) => [3, 4, 5].includes(string))).toBe(true);
        const pitches = sounding(setup, 1, engaged, fret);
        // E5 is MIDI 76
        expect(Math.max(...strings.map((string) => pitches[string - 1] ?? 0))).toBe(76);
      }
    expect(marked(atlas)).toContain('@8');
  });
});

describe('any setup', () => {
  const asks = fc.constantFrom('C', 'Am7', 'G7', 'D5');

  it('has every sound of its grip in some row, named as the sound itself is named', () => {
    fc.assert(
      fc.property(smallSetup, asks, (setup, chord) => {
        const strings = (setup.necks[0]?.strings ?? []).map((_, index) => index + 1).slice(0, 3);
        const atlas = atlasOf(setup, 1, question(setup, { chord }), strings);
        const pitchesWith = (engaged: Parameters<typeof sounding>[2]): string =>
          strings.map((string) => sounding(setup, 1, engaged, 0)[string - 1]).join();
        const wanted = new Set([...combinations(setup)].map(pitchesWith));
        const rows = atlas.rows.map(({ engaged }) => pitchesWith(engaged));
        expect(new Set(rows)).toEqual(wanted);
        expect(rows.length).toBe(wanted.size);
        for (const { engaged, names } of atlas.rows)
          for (let fret = 0; fret <= setup.frets; fret++) {
            const pitches = strings.map((s) => sounding(setup, 1, engaged, fret)[s - 1] ?? 0);
            const set = pcSetOf(pitches);
            const name = atlas.names[names[fret % 12] ?? -1];
            if (sizeOf(set) < 2) expect(name?.changes).toBeGreaterThan(0);
            else {
              const root = setup.necks[0] && homeRoot(setup.necks[0]);
              const home = root === undefined ? {} : { home: chromaOf(root + fret) };
              const [best] = namesOf(set, chromaOf(Math.min(...pitches)), home);
              expect(`${name?.text ?? ''}${name?.bass ?? ''}`).toBe(
                prettySymbol(best?.symbol ?? ''),
              );
            }
          }
      }),
    );
  });

  it('tells a single note from the chord that is written like it', () => {
    const read = readSetup({
      format: 1,
      name: 'Unison',
      frets: 12,
      necks: [{ name: 'N', strings: [{ open: 'E4' }, { open: 'E3' }] }],
      controls: [],
    });
    if (!read.ok) throw new Error(JSON.stringify(read.error));
    const atlas = atlasOf(read.value, 1, question(read.value, { chord: 'C' }), [1, 2]);
    // eight frets above E lies C, and nothing but C
    expect(atlas.names[atlas.rows[0]?.names[8] ?? -1]).toMatchObject({ spoken: 'C alone' });
    expect(atlas.wanted).toMatchObject({ changes: 0 });
  });

  it('names no row by a grip on which one of its controls is idle', () => {
    fc.assert(
      fc.property(smallSetup, asks, (setup, chord) => {
        const atlas = atlasOf(setup, 1, question(setup, { chord, sizes: '2-3' }));
        for (const { engaged, strings } of atlas.rows)
          for (const { id } of engaged) {
            const rest = engaged.filter((each) => each.id !== id);
            const isReachable = [...combinations(setup)].some(
              (each) => engagedText(each) === engagedText(rest),
            );
            if (!isReachable) continue;
            const [withIt, without] = [engaged, rest].map((each) =>
              strings.map((string) => sounding(setup, 1, each, 0)[string - 1]).join(),
            );
            expect(withIt).not.toBe(without);
          }
      }),
    );
  });
});
