/**
 * The form, the time and the words of pieces as readers of notation find them; every expectation is read
 * off the piece by hand. Signs by ABC 2.1 (4.8 to 4.14) and MusicXML 4.0 (`direction`, `sound`, `barline`).
 */
import { describe, expect, it } from 'vitest';
import { faultText } from '$lib/faults';
import { inOrder } from '$lib/arrange/inOrder';
import { stepsOf } from '$lib/arrange/progression';
import { pitchText } from '$lib/theory/pitch';
import { readAbc } from '$lib/formats/read/abc';
import { readMusicXml } from '$lib/formats/read/musicXml';
import type { ReadPiece } from '$lib/formats/read/score';

function abc(body: string, head = 'M:4/4\nL:1/4\nQ:1/4=90\nK:C'): ReadPiece {
  const read = readAbc(`X:1\nT:Lantern Road\n${head}\n${body}\n`);
  if (!read.ok) throw new Error(faultText(read.error));
  return read.value;
}

const part = (id: string, measures: string): string => `<part id="${id}">${measures}</part>`;
function scoreOf(parts: readonly (readonly [name: string, measures: string])[]): ReadPiece {
  const list = parts
    .map(([name], at) => `<score-part id="P${at}"><part-name>${name}</part-name></score-part>`)
    .join('');
  const read = readMusicXml(
    `<score-partwise version="4.0"><part-list>${list}</part-list>${parts.map(([, measures], at) => part(`P${at}`, measures)).join('')}</score-partwise>`,
  );
  if (!read.ok) throw new Error(faultText(read.error));
  return read.value;
}
const head = (beats = 4): string =>
  `<attributes><divisions>1</divisions><time><beats>${beats}</beats><beat-type>4</beat-type></time></attributes>`;
const harmony = (root: string): string =>
  `<harmony><root><root-step>${root}</root-step></root><kind>major</kind></harmony>`;
const note = (step: string, duration: number, more = ''): string =>
  `<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>${duration}</duration>${more}</note>`;
const rest = (duration: number): string => `<note><rest/><duration>${duration}</duration></note>`;
const words = (text: string, sound = ''): string =>
  `<direction><direction-type><words>${text}</words></direction-type>${sound}</direction>`;
const measure = (number: number, content: string): string =>
  `<measure number="${number}">${content}</measure>`;

/** The chords as they are played. */
const heard = ({ progression }: ReadPiece): string =>
  progression.bars
    .map(({ slots }) =>
      slots.map(({ chord }) => (chord === 'no chord' ? 'N.C.' : chord.symbol)).join(' '),
    )
    .join('|');
const melody = ({ piece }: ReadPiece): string =>
  piece.measures
    .map(({ notes }) =>
      notes
        .map(({ pitch, lasts, tied }) => {
          const name = pitch === 'rest' || !('midi' in pitch) ? '?' : pitchText(pitch);
          return `${name}*${lasts}${tied === true ? '-' : ''}`;
        })
        .join(' '),
    )
    .join('|');

describe('the form of an ABC tune', () => {
  it('goes back to the beginning and ends at the fine, or goes over to the coda', () => {
    expect(heard(abc('"C"c4|"F"f4 !fine!|"G"g4 !D.C.alfine!|'))).toBe('C|F|G|C|F');
    expect(heard(abc('"C"c4|!segno!"F"f4 !coda!|"G"g4 !D.S.alcoda!|!coda!"A"a4|'))).toBe(
      'C|F|G|F|A',
    );
    // D.C. alone ends at a fine where there is one
    expect(heard(abc('"C"c4 !fine!|"F"f4 !D.C.!|'))).toBe('C|F|C');
  });

  it('keeps every bar once, with its repeat and endings', () => {
    const { piece } = abc('|:"C"c4|1 "F"f4:|2 "G"g4||');
    expect(piece.measures.map(({ repeats, times, endings }) => [repeats, times, endings])).toEqual([
      [true, undefined, undefined],
      [undefined, 2, [1]],
      [undefined, undefined, [2]],
    ]);
  });

  it('says a sign that leads nowhere', () => {
    const { faults } = abc('"C"c4|"F"f4 !D.S.!|');
    expect(faults.map(({ code, where }) => [code, where])).toEqual([
      ['piece.signLost', 'measure 2'],
    ]);
  });

  it('changes metre and tempo where the tune does', () => {
    const read = abc('"C"c4|[M:3/4][Q:1/4=120]"F"f3|"G"g3|');
    expect(read.piece.measures.map(({ metre, tempos }) => [metre, tempos])).toEqual([
      [undefined, undefined],
      [{ beats: 3, unit: 4 }, [{ at: 0, tempo: 120 }]],
      [undefined, undefined],
    ]);
    // 4 quarters at 90, 6 at 120
    expect(inOrder(read.piece).seconds).toBeCloseTo(4 * (60 / 90) + 6 * 0.5, 9);
    // in bars of 4/4: one, three quarters, three quarters
    expect(stepsOf(read.progression).map(({ start, length }) => [start, length])).toEqual([
      [0, 1],
      [1, 0.75],
      [1.75, 0.75],
    ]);
  });

  it('begins with a pickup of its true length, which is no bar', () => {
    const read = abc('"G"d|"C"c4|');
    expect(read.piece.measures.map(({ lasts }) => lasts)).toEqual([1, undefined]);
    expect(stepsOf(read.progression).map(({ start }) => start)).toEqual([0, 0.25]);
  });

  it('has every note with its words, ties and rests', () => {
    const read = abc('"C"cd z e-|e4|\nw: down the road_');
    expect(melody(read)).toBe('C5*1 D5*1 E5*1-|E5*4');
    expect(read.piece.measures[0]?.notes.map(({ at, lyrics }) => [at, lyrics])).toEqual([
      [0, ['down']],
      [1, ['the']],
      [3, ['road']],
    ]);
    // tied notes are one
    expect(inOrder(read.piece).notes.map(({ lasts }) => lasts)).toEqual([1, 1, 5]);
  });
});

describe('the form of a MusicXML score', () => {
  it('obeys what its sounds and its words say', () => {
    const bar = (number: number, root: string, before = '', after = ''): string =>
      measure(
        number,
        `${number === 1 ? head() : ''}${before}${harmony(root)}${note('C', 4)}${after}`,
      );
    const fine = scoreOf([
      [
        'Tune',
        bar(1, 'C') + bar(2, 'F', '', words('Fine')) + bar(3, 'G', '', words('D.C. al Fine')),
      ],
    ]);
    expect(heard(fine)).toBe('C|F|G|C|F');
    const coda = scoreOf([
      [
        'Tune',
        bar(1, 'C') +
          bar(
            2,
            'F',
            '<direction><direction-type><segno/></direction-type><sound segno="1"/></direction>',
          ) +
          bar(3, 'D', '', words('To Coda', '<sound tocoda="1"/>')) +
          bar(4, 'G', '', words('D.S. al Coda', '<sound dalsegno="1"/>')) +
          bar(
            5,
            'A',
            '<direction><direction-type><coda/></direction-type><sound coda="1"/></direction>',
          ),
      ],
    ]);
    expect(heard(coda)).toBe('C|F|D|G|F|D|A');
  });

  it('takes metre and tempo as they change, and a pickup as long as it is', () => {
    const read = scoreOf([
      [
        'Tune',
        measure(
          0,
          `${head()}<direction><direction-type><words>x</words></direction-type><sound tempo="90"/></direction>${note('G', 1)}`,
        ) +
          measure(1, `${harmony('C')}${note('C', 4)}`) +
          measure(2, `${head(3)}<sound tempo="60"/>${harmony('F')}${note('F', 3)}`),
      ],
    ]);
    expect(read.progression.tempo).toBe(90);
    expect(read.piece.measures.map(({ lasts, metre, tempos }) => [lasts, metre, tempos])).toEqual([
      [1, undefined, undefined],
      [undefined, undefined, undefined],
      [undefined, { beats: 3, unit: 4 }, [{ at: 0, tempo: 60 }]],
    ]);
    expect(inOrder(read.piece).seconds).toBeCloseTo(5 * (60 / 90) + 3, 9);
  });

  it('has words, ties and slurs at the notes', () => {
    const lyric = (text: string, syllabic: string): string =>
      `<lyric number="1"><syllabic>${syllabic}</syllabic><text>${text}</text></lyric>`;
    const tie = '<tie type="start"/>';
    const slur = (type: string): string =>
      `<notations><slur type="${type}" number="1"/></notations>`;
    const read = scoreOf([
      [
        'Tune',
        measure(
          1,
          `${head()}${harmony('C')}${note('C', 1, slur('start') + lyric('lan', 'begin'))}${note('D', 1, slur('stop') + lyric('tern', 'end'))}${rest(1)}${note('E', 1, tie)}`,
        ) + measure(2, note('E', 4)),
      ],
    ]);
    expect(melody(read)).toBe('C4*1 D4*1 E4*1-|E4*4');
    const notes = read.piece.measures[0]?.notes ?? [];
    expect(notes.map(({ slurred, lyrics }) => [slurred, lyrics])).toEqual([
      [true, ['lan-']],
      [undefined, ['tern']],
      [undefined, undefined],
    ]);
  });

  it('takes the tune of the voice part over the chords of the piano', () => {
    const lyric = '<lyric><text>la</text></lyric>';
    const piano =
      measure(1, `${head()}${harmony('C')}${note('C', 4)}`) +
      measure(2, `${harmony('F')}${note('C', 4)}`);
    const voice = measure(1, `${head()}${note('E', 4, lyric)}`) + measure(2, note('F', 4, lyric));
    expect(
      melody(
        scoreOf([
          ['Voice', voice],
          ['Piano', piano],
        ]),
      ),
    ).toBe('E4*4|F4*4');
    // called so, without words; the part with the chords in front
    const plain = measure(1, `${head()}${note('G', 4)}`) + measure(2, note('A', 4));
    expect(
      melody(
        scoreOf([
          ['Piano', piano],
          ['Melody', plain],
        ]),
      ),
    ).toBe('G4*4|A4*4');
    expect(
      heard(
        scoreOf([
          ['Piano', piano],
          ['Melody', plain],
        ]),
      ),
    ).toBe('C|F');
  });
});
