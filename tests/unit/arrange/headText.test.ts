/** The lines at a text's head, read and changed by themselves: what fields do must leave the rest as it was. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HEAD_NAMES, headValue, splitHead, withHead } from '$lib/arrange/headText';
import { readProgression } from '$lib/arrange/readText';
import { runs } from '../../battery';

describe('the head of a text', () => {
  it.each([
    ['title: A\ntempo: 90\nG | C', 'title: A\ntempo: 90\n'],
    ['\n title = A\n\nG', '\n title = A\n'],
    ['# mine\ntitle: A\nG', ''],
    ['G | C\ntitle: A', ''],
    ['key: G', 'key: G'],
    ['', ''],
  ])('of %j is %j', (text, head) => {
    expect(splitHead(text)).toEqual({ head, body: text.slice(head.length) });
  });

  it('says the last of two, and is written once', () => {
    expect(headValue('time: 3/4\nmetre: 6/8\nG', 'metre')).toBe('6/8');
    expect(withHead('time: 3/4\nmetre: 6/8\nG', 'metre', '2/4')).toBe('metre: 2/4\nG');
    expect(withHead('key: C\nG\nkey: D', 'key', 'F')).toBe('G\nkey: F');
  });

  it('leaves what changes below chords where it is', () => {
    expect(headValue('time: 3/4\nG\nmetre: 6/8', 'metre')).toBe('3/4');
    expect(withHead('G\ntempo: 60\nC', 'tempo', '90')).toBe('tempo: 90\nG\ntempo: 60\nC');
  });

  it('gets a new line behind those that are told before it, and loses it where nothing is said', () => {
    const text = withHead('title: A\ntempo: 90\nG', 'key', 'Eb');
    expect(text).toBe('title: A\nkey: Eb\ntempo: 90\nG');
    expect(withHead(text, 'key', ' ')).toBe('title: A\ntempo: 90\nG');
    expect(withHead('G', 'title', 'Two\nlines')).toBe('title: Two lines\nG');
    expect(withHead('G', 'title', '')).toBe('G');
  });

  const line = fc.constantFrom(
    'title: Shed',
    'tempo=90',
    'time: 3/4',
    'key: Hm',
    'G | C',
    'melody: E4',
    '# note',
    '',
    '[Verse]',
    'title:',
    'C\r',
  );

  it('changes nothing else, whatever the text', () => {
    fc.assert(
      fc.property(
        fc.array(line, { maxLength: 8 }),
        fc.constantFrom(...HEAD_NAMES),
        fc.constantFrom('', 'Lantern', '120', '6/8', 'F#m'),
        (lines, name, value) => {
          const text = lines.join('\n');
          const after = withHead(text, name, value);
          expect(headValue(after, name)).toBe(value);
          for (const other of HEAD_NAMES)
            if (other !== name) expect(headValue(after, other)).toBe(headValue(text, other));
          const [was, is] = [text, after].map((each) =>
            // how much of a bar of the piece's metre a bar is hangs on that metre
            readProgression(each).progression.bars.map(({ part, ...bar }) =>
              name === 'metre' ? bar : { ...bar, part },
            ),
          );
          expect(is).toEqual(was);
          const { head, body } = splitHead(after);
          expect(head + body).toBe(after);
        },
      ),
      { numRuns: runs(300) },
    );
  });
});
