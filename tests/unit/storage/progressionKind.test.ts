/** What is kept of a progression comes back as it was, and nothing else gets in. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { progressionKind } from '$lib/storage/progressionKind';

const piece = { setup: 'e9', text: 'title: Lantern\nC | F', wishes: { frets: '0-8' } };

describe('a kept progression', () => {
  it('comes back as it was, whatever was typed', () => {
    fc.assert(
      fc.property(
        fc.record({
          setup: fc.string({ maxLength: 60 }),
          text: fc.string({ unit: 'grapheme', maxLength: 300 }),
          wishes: fc.record({ frets: fc.string({ minLength: 1, maxLength: 20 }) }),
        }),
        (kept) => {
          expect(progressionKind.read(progressionKind.write(kept))).toEqual({
            ok: true,
            value: kept,
          });
        },
      ),
    );
  });

  it('is called by its title, and takes a new one', () => {
    expect(progressionKind.nameOf(piece)).toBe('Lantern');
    expect(progressionKind.nameOf(progressionKind.named(piece, 'Road'))).toBe('Road');
    expect(progressionKind.named(piece, '$& $1').text).toBe('title: $& $1\nC | F');
    expect(progressionKind.named({ ...piece, text: 'C | F' }, 'Road').text).toBe(
      'title: Road\nC | F',
    );
  });

  it.each([
    ['', /JSON/],
    ['[]', /a progression/],
    ['{"format":3,"setup":"e9","chords":"C"}', /newer/],
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
    expect(result).toEqual({ ok: true, value: { setup: 'e9', text: 'C', wishes: {} } });
  });
});
