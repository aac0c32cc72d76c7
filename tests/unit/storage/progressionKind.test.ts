/** What is kept of a progression comes back as it was, and nothing else gets in. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_METRE, DEFAULT_TEMPO, type Progression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { fromText, shownText, typed } from '$lib/storage/piece';
import { progressionKind } from '$lib/storage/progressionKind';
import { runs } from '../../battery';

const ABOUT = { setup: 'e9', wishes: { frets: '0-8' } };
const piece = fromText(ABOUT, 'title: Lantern\nC | F');
const kept = (text: string, before = piece) => {
  const read = progressionKind.read(progressionKind.write(typed(before, text)));
  if (!read.ok) throw new Error('a progression was expected');
  return read.value;
};

describe('a kept progression', () => {
  it('comes back as it was, whatever was typed', () => {
    fc.assert(
      fc.property(
        fc.record({
          setup: fc.string({ maxLength: 60 }),
          text: fc.string({ unit: 'grapheme', maxLength: 300 }),
          wishes: fc.record({ frets: fc.string({ minLength: 1, maxLength: 20 }) }),
        }),
        ({ text, ...about }) => {
          const value = fromText(about, text);
          const back = progressionKind.read(progressionKind.write(value));
          expect(back).toEqual({ ok: true, value });
          // what was not understood stands there as it was typed
          if (value.draft !== undefined) expect(shownText(value)).toBe(text);
        },
      ),
    );
  });

  it('is called by its title, and takes a new one', () => {
    expect(progressionKind.nameOf(piece)).toBe('Lantern');
    expect(progressionKind.nameOf(progressionKind.named(piece, 'Road'))).toBe('Road');
    expect(shownText(progressionKind.named(piece, '$& $1'))).toBe('title: $& $1\nC | F');
    expect(shownText(progressionKind.named(fromText(ABOUT, 'C | F'), 'Road'))).toBe(
      'title: Road\nC | F',
    );
    const half = progressionKind.named(typed(piece, 'title: Lantern\nC | Hx'), 'Road');
    expect(progressionKind.nameOf(half)).toBe('Road');
    expect(shownText(half)).toBe('title: Road\nC | Hx');
  });

  it.each([
    ['', /JSON/],
    ['[]', /a progression/],
    ['{"format":4,"setup":"e9","chords":"C"}', /newer/],
    ['{"format":1,"setup":7,"chords":"C"}', /id of a setup/],
    ['{"format":1,"setup":"e9"}', /a text/],
    ['{"format":1,"setup":"e9","chords":"C","wishes":[]}', /preferences/],
    ['{"format":1,"setup":"e9","chords":"C","wishes":{"frets":{}}}', /a text/],
    ['x'.repeat(300_000), /at most/],
  ])('%.60s is refused with what would be right', (text, allowed) => {
    const result = progressionKind.read(text);
    expect(
      result.ok ? '' : result.error.map((fault) => fault.allowed + fault.found).join(),
    ).toMatch(allowed);
  });

  it('lets nothing in through the names of objects', () => {
    const result = progressionKind.read(
      '{"format":1,"setup":"e9","chords":"C","wishes":{"__proto__":{"frets":"1"},"other":"x"}}',
    );
    expect(result).toEqual({ ok: true, value: fromText({ setup: 'e9', wishes: {} }, 'C') });
  });
});

/** What is played: each chord with its part of the bar. */
const playedBy = ({
  bars,
  metre = DEFAULT_METRE,
  tempo = DEFAULT_TEMPO,
  ...about
}: Progression) => ({
  ...{ ...about, metre, tempo },
  bars: bars.map(({ slots, ...bar }) => {
    const all = slots.reduce((sum, { share }) => sum + share, 0);
    return {
      ...bar,
      slots: slots.map((slot) => ({ ...slot, share: (slot.share / all).toFixed(6) })),
    };
  }),
});

describe('what is typed', () => {
  it('is a draft as long as it cannot be read, and the piece is what it was', () => {
    const half = typed(piece, 'title: Lantern\nC | Fm | G7su');
    expect(half).toEqual({ ...piece, draft: 'title: Lantern\nC | Fm | G7su' });
    expect(half.piece).toBe(piece.piece);
    expect(progressionKind.nameOf(half)).toBe('Lantern');
    // at the next visit it stands there as it was typed
    expect(shownText(kept('title: Lantern\nC | Fm | G7su'))).toBe('title: Lantern\nC | Fm | G7su');
    expect(kept('title: Lantern\nC | Fm | G7su').piece).toEqual(piece.piece);
    const whole = typed(half, 'title: Lantern\nC | Fm | G7sus4');
    expect(whole.draft).toBeUndefined();
    expect(whole.piece.measures).toHaveLength(3);
  });

  it('is a structure, and the text is written from it', () => {
    expect(shownText(typed(piece, 'C . / F |Am ||'))).toBe('C . . F | Am');
    expect(shownText(typed(piece, 'C | F\nmelody: E4 | -'))).toBe('C:E4 | F');
    expect(shownText(typed(piece, 'key = C\n\n[ Verse ]\nC'))).toBe('key: C\n[Verse]\nC');
  });

  it.each([
    'C | F\nG7 | C',
    'C | F | G | C | F | C',
    'title: Lantern\n# a slow one\n[Verse]\nC | F\n# twice as loud\nG7\n# to be gone on with',
    '#\nC',
    'metre: 4/4\n|: C | F\nG7 | C :|\nmetre: 3/4\nAm',
  ])('keeps its lines and remarks: %j', (text) => {
    expect(shownText(typed(piece, text))).toBe(text);
    expect(shownText(kept(text))).toBe(text);
  });

  it('means the same when it is written from its structure, whatever was typed', () => {
    const word = fc.constantFrom(
      ...[
        'C',
        'F',
        'G7',
        'Am7:E4',
        '%',
        '.',
        '/',
        'N.C.',
        '|',
        '|',
        '|',
        '\n',
        '\n',
        '|:',
        ':|',
        ':|x3',
        '||',
      ],
      ...[
        '\n|: C | F |1. G7 :|2. C ||\n',
        '(Segno)',
        '(D.S.)',
        '(Fine)',
        '(D.C. al Fine)',
        '[Verse]',
        '\n# so\n',
      ],
      ...[
        '\nmetre: 3/4\n',
        '\ntempo: 90\n',
        '\nkey: G\n',
        '\nmelody: E4 - D4\n',
        '\npickup: 1/4\n',
      ],
    );
    const texts = fc.array(word, { maxLength: 24 }).map((words) => words.join(' '));
    fc.assert(
      fc.property(texts, (text) => {
        const was = fromText(ABOUT, text);
        if (was.draft !== undefined) return;
        const shown = shownText(was);
        const now = readProgression(shown);
        expect(playedBy(now.progression), shown).toEqual(
          playedBy(readProgression(text).progression),
        );
        expect(now.faults.filter(({ code }) => code !== 'piece.noBars')).toEqual([]);
        // written once more nothing changes
        expect(shownText(fromText(ABOUT, shown)), text).toBe(shown);
      }),
      { numRuns: runs(300, 4000) },
    );
  });

  it('is written in the oldest format that can say it, so that earlier programs read it', () => {
    const formatOf = (text: string): unknown =>
      (JSON.parse(progressionKind.write(typed(piece, text))) as { format: unknown }).format;
    expect([formatOf('C | G'), formatOf('C | G7su')]).toEqual([1, 3]);
  });

  it('that earlier programs kept although it could not be read is a draft', () => {
    const old = progressionKind.read('{"format":1,"setup":"e9","chords":"C | Hx | F"}');
    if (!old.ok) throw new Error('a progression was expected');
    expect(shownText(old.value)).toBe('C | Hx | F');
    expect(old.value.draft).toBe('C | Hx | F');
    expect(old.value.piece.measures).toHaveLength(3);
  });
});
