/** Roman numerals, by the common practice of tonal harmony: the chords of a key as textbooks write them. */
import { describe, expect, it } from 'vitest';
import { numeralOf } from '$lib/theory/numeral';
import { readKey } from '$lib/theory/spelling';
import { readChord } from '$lib/theory/readChord';

function numeral(symbol: string, key: string): { text: string; spoken: string } {
  const [chord, read] = [readChord(symbol), readKey(key)];
  if (!chord.ok || chord.value === 'no chord' || !read.ok) throw new Error(`${symbol} in ${key}`);
  return numeralOf(chord.value, read.value);
}

describe('the numeral of a chord in a key', () => {
  it.each([
    ['C', 'C Dm Em F G Am Bdim', 'I ii iii IV V vi vii°'],
    ['Eb', 'Ebmaj7 Fm7 Gm7 Abmaj7 Bb7 Cm7 Dm7b5', 'Imaj7 ii7 iii7 IVmaj7 V7 vi7 viiø7'],
    ['Am', 'Am Bdim C Dm Em F G', 'i ii° III iv v VI VII'],
    ['G', 'G Am Bm C D7 Em F#dim', 'I ii iii IV V7 vi vii°'],
    ['Bb', 'Bb Eb F7 Ab Edim', 'I IV V7 ♭VII ♯iv°'],
    ['F#m', 'F#m C#7 E#dim7', 'i V7 vii°7'],
    // the raised leading note needs no sign where it bears a diminished chord; nothing else goes without
    ['Am', 'G#dim7 G#m7b5 G#m F#dim D#dim7', 'vii°7 viiø7 ♯vii ♯vi° ♯iv°7'],
    ['Am', 'Gdim Gbdim', 'vii° ♭vii°'],
    ['C', 'B#dim Bdim', '♯vii° vii°'],
    ['D', 'Bb C G#m7b5 Cdim', '♭VI ♭VII ♯ivø7 ♭vii°'],
    ['C', 'Bb Ab Db F#dim7 Caug C6/9 Csus4', '♭VII ♭VI ♭II ♯iv°7 I+ I6/9 Isus4'],
  ])('%s: %s', (key, chords, wanted) => {
    const all = chords.split(' ');
    expect(all.map((chord) => numeral(chord, key).text).join(' ')).toBe(wanted);
  });

  it('is said in words', () => {
    expect(numeral('Bb7', 'C').spoken).toBe('flat seven dominant seventh');
    expect(numeral('Am', 'C').spoken).toBe('six minor');
    expect(numeral('G#dim7', 'Am').spoken).toBe('seven diminished seventh');
    expect(numeral('F#m', 'C').spoken).toBe('sharp four minor');
  });
});
