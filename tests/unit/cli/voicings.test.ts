/** `voicings --json`: shapes of the model's section 13, values derived by hand or by its rules. */
import { describe, expect, it } from 'vitest';
import { answer } from '$lib/answers/answer';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { allVoicings, call, voicings, type VoicingJson } from './calling';

const top = ({ pitches }: VoicingJson) => Math.max(...pitches);
const bass = ({ pitches }: VoicingJson) => Math.min(...pitches);
const classes = ({ pitches }: VoicingJson) =>
  [...new Set(pitches.map((midi) => midi % 12))].sort((a, b) => a - b);
const placeOf = ({ neck, frets, strings, pitches }: VoicingJson) =>
  JSON.stringify([neck, frets, strings, pitches]);

describe('the document', () => {
  it('tells the chord, the ground covered and the first twenty', async () => {
    const found = await voicings('Cmaj7');
    expect(found.chord).toMatchObject({ symbol: 'Cmaj7', root: 'C', pitchClasses: [0, 4, 7, 11] });
    // foot: none, A, B, C, A+B, B+C; left knee: none or one of three; right knee: none, RKL,
    // RKR half, RKR full: 6 · 4 · 4 = 96. Grips: 10 over 3 and 10 over 4, 120 + 210 = 330.
    expect(found.searched).toEqual({ combinations: 96, candidates: 96 * 25 * 330 });
    expect(found.searched.candidates).toBe(792_000);
    expect(found.voicings).toHaveLength(20);
  });

  it('counts all matches, whatever is shown', async () => {
    const [twenty, none, five] = await Promise.all([
      voicings('C'),
      voicings('C', '--limit', '0'),
      voicings('C', '--limit', '5'),
    ]);
    expect(none.voicings).toHaveLength(none.count);
    expect([twenty.count, five.count]).toEqual([none.count, none.count]);
    expect(five.voicings).toEqual(twenty.voicings.slice(0, 5));
    expect(twenty.voicings).toHaveLength(20);
  });

  it.each([
    ['C', ''],
    ['G13', 'bar=0,picking=2'],
  ] as const)('stands in the order that is stated: %s, balanced %s', async (chord, balance) => {
    // section 7: by effort; of equals by fret, then by strings
    const all = await allVoicings(chord, ...(balance === '' ? [] : ['--balance', balance]));
    expect(all.length).toBeGreaterThan(50);
    const before = (a: VoicingJson, b: VoicingJson): number =>
      a.effort.total - b.effort.total || a.fret - b.fret || byStrings(a.strings, b.strings);
    const byStrings = (a: readonly number[], b: readonly number[]): number => {
      const at = a.findIndex((string, index) => string !== b[index]);
      return at < 0 ? a.length - b.length : (a[at] ?? 0) - (b[at] ?? Infinity) || 0;
    };
    const outOfOrder = all.slice(1).filter((each, at) => before(all[at] ?? each, each) > 0);
    expect(outOfOrder.map(placeOf)).toEqual([]);
  });

  it('folds octaves into one row each where it is cut short, and tells them', async () => {
    const [some, all] = await Promise.all([voicings('C'), allVoicings('C')]);
    // what makes two voicings one in different octaves: everything but the fret, which is 12 or 24 off
    const folded = ({ neck, slant, strings, pitches, fret }: VoicingJson) =>
      JSON.stringify([neck, slant, strings, pitches.map((midi) => midi - fret), fret % 12]);
    const order = [...new Set(all.map(folded))];
    expect(some.voicings.map(folded)).toEqual(order.slice(0, 20));
    for (const row of some.voicings) {
      const same = all.filter((each) => folded(each) === folded(row)).map(({ fret }) => fret);
      expect([row.fret, ...(row.octaves ?? [])].sort((a, b) => a - b)).toEqual(
        same.sort((a, b) => a - b),
      );
      // the easiest of them stands for all
      expect(all.find((each) => folded(each) === folded(row))?.fret).toBe(row.fret);
    }
    expect(all.some(({ octaves }) => octaves !== undefined)).toBe(false);
  });

  it('has a voicing in all its parts', async () => {
    // G#4, E4, B3 eight frets up: 76, 72, 67
    const { voicings: first } = await voicings('C', '--grip', '3,4,5', '--frets', '8');
    expect(first[0]).toMatchObject({
      neck: 1,
      fret: 8,
      strings: [3, 4, 5],
      notes: ['E5', 'C5', 'G4'],
      pitches: [76, 72, 67],
      missing: [],
      ways: [[]],
    });
    // A+B at fret 3: G#4 + 1 + 3 = C5, E4 + 3 = G4, B3 + 2 + 3 = E4
    const third = (await allVoicings('C', '--grip', '3,4,5', '--frets', '3')).find(
      ({ pitches }) => pitches.join() === '72,67,64',
    );
    expect(third?.ways[0]?.map(({ id, state }) => `${id} ${state}`)).toEqual(['A full', 'B full']);
  });

  it('sounds what the setup gives, in every way of every voicing, and sums its effort', async () => {
    const { necks, controls } = builtIn('e9');
    for (const each of await allVoicings('C9')) {
      for (const way of each.ways) {
        const sounding = each.strings.map((string, place) => {
          // section 2: the farthest raise and the farthest lower, and the fret
          const moves = way.flatMap(({ id, state }) =>
            (controls.find((control) => control.id === id)?.pulls ?? [])
              .filter((pull) => pull.string === string)
              .map((pull) => (state === 'half' ? (pull.half ?? 0) : pull.semitones)),
          );
          const open = necks[0]?.strings[string - 1]?.open.midi ?? NaN;
          return open + Math.max(0, ...moves) + Math.min(0, ...moves) + (each.frets[place] ?? NaN);
        });
        expect(sounding).toEqual(each.pitches);
      }
      const { total, feet, picking, bar, clarity } = each.effort;
      expect(total).toBeCloseTo(feet + picking + bar + clarity, 9);
    }
  });
});

describe('the options', () => {
  it('--neck, --frets, --sizes, --grip', async () => {
    const [neck, frets, sizes, grip] = await Promise.all([
      allVoicings('C', '--setup', 'double', '--neck', '2'),
      allVoicings('C', '--frets', '3-5'),
      allVoicings('C', '--sizes', '2'),
      allVoicings('C', '--grip', '3,4,5,6'),
    ]);
    expect(new Set(neck.map((each) => each.neck))).toEqual(new Set([2]));
    expect(new Set(frets.map((each) => each.fret))).toEqual(new Set([3, 4, 5]));
    expect(new Set(sizes.map(({ strings }) => strings.length))).toEqual(new Set([2]));
    expect(new Set(grip.flatMap(({ strings }) => strings))).toEqual(new Set([3, 4, 5, 6]));
  });

  it('--sizes 2: the thirds, sixths and tenths of a chord, and says what is missing', async () => {
    const found = await allVoicings('C', '--sizes', '2');
    const intervals = new Set(found.map((each) => Math.abs(top(each) - bass(each))));
    // thirds and sixths, major and minor, and tenths (E4 over C3 is 16 semitones)
    for (const interval of [3, 4, 8, 9, 15, 16]) expect(intervals).toContain(interval);
    for (const each of found) {
      expect(classes(each)).toHaveLength(2);
      const tones = each.missing.concat(each.tones).sort();
      expect(tones).toEqual(['1', '3', '5']);
    }
    // G and E at fret 8 on strings 5 and 6 with nothing engaged: a third of C without its root
    expect(found.find(({ fret, strings }) => fret === 8 && strings.join() === '5,6')).toMatchObject(
      {
        missing: ['1'],
      },
    );
    // the whole chord is more than two strings can say
    expect(await allVoicings('C', '--sizes', '2', '--match', 'complete')).toEqual([]);
  });

  it('--sizes 1 finds a note', async () => {
    const found = await allVoicings('C', '--sizes', '1', '--top', 'E4', '--frets', '0');
    // E4 lies open on string 4; on string 2 nothing raises D#4 but RKL, by one
    expect(found.map(({ strings }) => strings)).toEqual([[4], [2]]);
    expect(found[0]).toMatchObject({ pitches: [64], missing: ['1', '5'], ways: [[]] });
    expect(found[1]?.ways[0]).toEqual([{ id: 'RKL', state: 'full' }]);
  });

  it('--match', async () => {
    const [complete, lean, rootless, left] = await Promise.all([
      allVoicings('C9', '--match', 'complete', '--sizes', '5'),
      allVoicings('C9', '--match', 'lean'),
      allVoicings('C9', '--match', 'rootless'),
      allVoicings('C9'),
    ]);
    expect(complete.length).toBeGreaterThan(0);
    for (const each of complete) {
      expect(each.missing).toEqual([]);
      expect(classes(each)).toEqual([0, 2, 4, 7, 10]);
    }
    const withoutRoot = (all: VoicingJson[]) => all.filter(({ missing }) => missing.includes('1'));
    expect(lean.some(({ missing }) => missing.includes('5'))).toBe(true);
    expect(withoutRoot([...lean])).toEqual([]);
    expect(withoutRoot([...rootless]).length).toBeGreaterThan(0);
    for (const each of withoutRoot([...rootless])) expect(classes(each)).not.toContain(0);
    // the default for chords of five or more tones
    expect(left).toEqual(rootless);
  });

  it('--top and --bass, in one octave or in any', async () => {
    const [e4, e, g, slash] = await Promise.all([
      allVoicings('C', '--top', 'E4'),
      allVoicings('C', '--top', 'E'),
      allVoicings('C', '--bass', 'G3'),
      allVoicings('C/E'),
    ]);
    expect(new Set(e4.map(top))).toEqual(new Set([64]));
    expect(new Set(e.map((each) => top(each) % 12))).toEqual(new Set([4]));
    expect(new Set(e.map(top)).size).toBeGreaterThan(1);
    expect(new Set(g.map(bass))).toEqual(new Set([55]));
    expect(new Set(slash.map((each) => bass(each) % 12))).toEqual(new Set([4]));
  });

  it('--without leaves controls out and keeps what does not need them', async () => {
    const [all, less] = await Promise.all([
      allVoicings('C'),
      allVoicings('C', '--without', 'A,RKR'),
    ]);
    const uses = (way: VoicingJson['ways'][number]) => way.some(({ id }) => /^(A|RKR)$/.test(id));
    expect(less.flatMap(({ ways }) => ways).filter(uses)).toEqual([]);
    const kept = all.filter(({ ways }) => ways.some((way) => !uses(way)));
    expect(less.map(placeOf).sort()).toEqual(kept.map(placeOf).sort());
  });

  it('--home puts what is near the bar first', async () => {
    const { voicings: near } = await voicings('C', '--home', '20');
    // with nothing pressed C lies at frets 8 and 20
    expect(near[0]).toMatchObject({ fret: 20, ways: [[]] });
    expect(near.find(({ fret }) => fret === 8)?.effort.bar ?? 1).toBeGreaterThan(0);
  });

  it('--slants', async () => {
    const [on, off, pedals] = await Promise.all([
      allVoicings('C', '--setup', 'lap6-c6'),
      allVoicings('C', '--setup', 'lap6-c6', '--slants', 'off'),
      allVoicings('C', '--slants', 'on'),
    ]);
    const slanted = (all: readonly VoicingJson[]) => all.filter(({ slant }) => slant !== 0);
    // on where a setup has no pedals: section 8
    expect(slanted(on).length).toBeGreaterThan(0);
    expect(off.map(placeOf)).toEqual(on.filter(({ slant }) => slant === 0).map(placeOf));
    for (const { slant, fret, frets } of [...slanted(on), ...slanted(pedals)]) {
      expect(Math.abs(slant)).toBeLessThanOrEqual(2);
      expect(frets).toContain(fret);
      expect(Math.max(...frets) - Math.min(...frets)).toBe(Math.abs(slant));
    }
  });

  it('--balance shifts how much feet, picking and bar count', async () => {
    const [even, shifted] = await Promise.all([
      allVoicings('C'),
      allVoicings('C', '--balance', 'feet=0,bar=2'),
    ]);
    const before = new Map(even.map((each) => [placeOf(each), each.effort]));
    expect(shifted).toHaveLength(even.length);
    for (const each of shifted) {
      expect(each.effort.feet).toBe(0);
      // parts are in thousandths, so that doubling a rounded one may differ by one
      const bar = 2 * (before.get(placeOf(each))?.bar ?? NaN);
      expect(Math.abs(each.effort.bar - bar)).toBeLessThan(0.0015);
    }
  });
});

describe('the answers of the page’s engine', () => {
  const QUESTIONS: readonly (readonly [BuiltInId, QuestionTexts & { chord: string }])[] = [
    ['e9', { chord: 'F#m7b5', frets: '0-12' }],
    ['c6', { chord: 'D9', sizes: '4-5' }],
    ['universal12', { chord: 'Bb6', top: 'D' }],
    ['double', { chord: 'Ebmaj7', without: 'A' }],
    ['square6-g', { chord: 'D', home: '7' }],
  ];
  it.each(QUESTIONS)('%s %o', async (id, texts) => {
    const options = Object.entries(texts).flatMap(([part, value]) =>
      part === 'chord' ? [] : [`--${part}`, value ?? ''],
    );
    const said = await voicings(texts.chord, '--setup', id, '--limit', '0', ...options);
    const question = readQuestion(builtIn(id), texts);
    if (!question.ok) throw new Error(JSON.stringify(question.error));
    const found = answer(builtIn(id), question.value);
    expect(said.count).toBe(found.count);
    expect(said.searched).toEqual(found.searched);
    expect(said.voicings).toHaveLength(found.count);
    for (const [place, each] of said.voicings.entries()) {
      const { voicing, effort } = found.at(place);
      const { neck, fret, slant, strings, frets, pitches, missing, ways } = voicing;
      const same = { neck, fret, slant, strings, frets, pitches, missing, ways, effort };
      expect(each).toMatchObject(JSON.parse(JSON.stringify(same)) as object);
    }
  });
});

describe('a row for people', () => {
  it('has each note and each tone under its string, in the order in which grips are said', async () => {
    // string 3 is the highest: G sharp, E, B at the nut, eight frets up
    const { out } = await call(['voicings', '--chord', 'C', '--limit', '1']);
    expect(out).toMatch(/3-4-5 +E5 C5 G4 +3 R 5 /u);
  });
});

describe('notes called otherwise', () => {
  it('are typed and printed so in every job, and JSON keeps letters', async () => {
    const said = await Promise.all([
      call(['voicings', '--chord', 'H7', '--top', 'H', '--limit', '1', '--names', 'german']),
      call(['arrange', '--chords', 'Hm | B', '--ways', '1', '--names', 'german']),
      call(['tuning', '--chords', 'H7', '--names', 'german']),
      call(['change', '--open', '9:Cis3', '--names', 'german', '--limit', '1']),
      call(['coverage', '--key', 'Es', '--names', 'german']),
      call(['arrange', '--chords', 'La m | Si', '--ways', '1', '--names', 'solfege']),
    ]);
    expect(said.map(({ code, err }) => [code, err])).toEqual(said.map(() => [0, '']));
    for (const [index, word] of [
      [0, /^H7: H \(R\) Dis \(3\) Fis \(5\) A \(♭7\)/u],
      [1, / Hm +\d.* H\d/u],
      [2, /open +5 +H3 /u],
      [3, / Fis3 /u],
      [4, /Chords of Es at each fret/u],
      [5, / Lam +\d.* La\d/u],
    ] as const)
      expect(said[index]?.out).toMatch(word);
    const { out } = await call(['voicings', '--chord', 'H7', '--names', 'german', '--json']);
    expect(JSON.parse(out)).toMatchObject({ chord: { symbol: 'B7', root: 'B' } });
    // the next call is not told
    expect((await call(['voicings', '--chord', 'B', '--limit', '1'])).out).toMatch(/^B: B \(R\)/u);
  });
});
