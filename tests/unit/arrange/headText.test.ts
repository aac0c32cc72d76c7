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
    expect(headValue('time: 3/4\nG\nmetre: 6/8', 'metre')).toBe('6/8');
    expect(withHead('time: 3/4\nG\nmetre: 6/8', 'metre', '2/4')).toBe('G\nmetre: 2/4');
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
          const [was, is] = [text, after].map((each) => readProgression(each).progression.bars);
          expect(is).toEqual(was);
          const { head, body } = splitHead(after);
          expect(head + body).toBe(after);
        },
      ),
      { numRuns: runs(300) },
    );
  });
});
