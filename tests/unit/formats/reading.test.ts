/** What readers of files make of small pieces; every expectation is read off the piece by hand. */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { pitchText } from '$lib/theory/pitch';
import { keyText } from '$lib/theory/spelling';
import { isPitch, type ReadProgression } from '$lib/arrange/progression';
import { readProgressionFile, refusedUnread } from '$lib/formats/progressionFiles';
import { readAbc as readAbcFile } from '$lib/formats/read/abc';
import { faultText } from '$lib/faults';
import { readChordPro } from '$lib/formats/read/chordPro';
import { readMusicXml } from '$lib/formats/read/musicXml';
import { inMemory } from '../../inMemory';

/** Bars as `C:E4 Am7*3`: chord, melody note, share. */
function barsOf({ progression }: ReadProgression): string[] {
  return progression.bars.map(({ slots }) =>
    slots
      .map(({ chord, melody, share }) => {
        const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
        const note = melody === undefined ? '' : `:${isPitch(melody) ? pitchText(melody) : '?'}`;
        return `${symbol}${note}${share === 1 ? '' : `*${share}`}`;
      })
      .join(' '),
  );
}

const read = async (name: string, text: string): Promise<ReadProgression> => {
  const found = await readProgressionFile(inMemory(name, strToU8(text)));
  if (!found.ok) throw new Error(faultText(found.error));
  return found.value;
};

function readAbc(text: string): ReadProgression {
  const found = readAbcFile(text);
  if (!found.ok) throw new Error(faultText(found.error));
  return found.value;
}

describe('ABC', () => {
  const tune = (body: string, head = 'M:4/4\nL:1/8\nK:G'): string =>
    `X:1\nT:Evening on the Lantern Road\n${head}\n${body}\n`;

  it('gives chords their share of the bar, and the note that sounds as they begin', () => {
    const found = readAbc(tune('"G"G2 AB "Em"e4 | "C"c4- "D7"c2 FF | "G"[GBd]8 |]'));
    // c is tied on under D7; of a chord of notes the top one is the melody
    expect(barsOf(found)).toEqual(['G:G4 Em:E5', 'C:C5 D7:C5', 'G:D5']);
    expect(found.faults).toEqual([]);
    expect(found.progression.title).toBe('Evening on the Lantern Road');
    expect(found.progression.metre).toEqual({ beats: 4, unit: 4 });
    expect(found.progression.key && keyText(found.progression.key)).toBe('G');
  });

  it('knows the key signature, accidentals to the end of their bar, and octaves', () => {
    const found = readAbc(tune('"D"F4 "G"=F4 | "G"F,4 "D"f\'4 | "D"^c4 "D"c4 |'));
    expect(barsOf(found)).toEqual(['D:F#4 G:F4', 'G:F#3 D:F#6', 'D:C#5 D:C#5']);
  });

  it('holds a chord on through bars without one, and leaves out an upbeat without one', () => {
    const found = readAbc(tune('D2 | "G"G8 | A8 | "D7"d8 |'));
    expect(barsOf(found)).toEqual(['G:G4', 'G:A4', 'D7:D5']);
  });

  it('goes back to a double bar only where something goes back', () => {
    const repeatsOf = (body: string) =>
      readAbc(tune(body)).piece?.measures.map(({ repeats = false }) => repeats);
    // ABC 2.1, 4.8: a repeat without a beginning goes back to the latest double bar
    expect(repeatsOf('"G"G8 || "C"c8 | "D7"d8 :| "G"G8 |]')).toEqual([false, true, false, false]);
    // a tune in two parts of which the first is repeated
    const once = '|: "G"G8 |1 "C"c8 :|2 "D7"d8 |]\nP:B\n"Em"e8 | "G"G8 |]';
    expect(repeatsOf(once)).toEqual([true, false, false, false, false]);
    expect(repeatsOf('"G"G8 || "C"c8 || "D7"d8 :|')).toEqual([false, false, true]);
  });

  it('plays repeats and their endings as they are heard', () => {
    // ABC 2.1, 4.9 and 4.10: first ending, then the same again with the second
    const found = readAbc(tune('|: "G"G8 | "C"c8 |1 "D7"d8 :|2 "G"g8 || "Em"e8 |'));
    expect(barsOf(found).map((bar) => bar.split(':')[0])).toEqual('G C D7 G C G Em'.split(' '));
  });

  it('counts triplets as three in the time of two', () => {
    const found = readAbc(tune('"G"(3GAB "C"c2 "D"d4 |'));
    // a quarter, a quarter, a half
    expect(barsOf(found)).toEqual(['G:G4 C:C5 D:D5*2']);
  });

  // ChordPro 6: {chorus} plays the last chorus again; {transpose} moves what follows, and without a
  // number goes back to the move before
  it('plays a chorus again where that is asked for, and moves what follows a transposition', () => {
    const found = readChordPro(
      '{soc: Refrain}\n[G]Home a[D7]gain\n{eoc}\n[C]Road\n{chorus}\n' +
        '{transpose: 2}\n[G]one\n{transpose: +3}\n[G]two\n{transpose}\n[G]three\n{transpose}\n[G]four\n{chorus: Last}',
    );
    expect(found.faults).toEqual([]);
    expect(barsOf(found)).toEqual('G D7 C G D7 A Bb A G G D7'.split(' '));
    expect(found.progression.bars.map(({ section = '' }) => section).join()).toBe(
      'Refrain,,,Refrain,,,,,,Last,',
    );
  });

  it('moves a chorus that is asked for again by what moves all else there', () => {
    const found = readChordPro(
      '{soc}\n[G]Home a[D7]gain\n{eoc}\n{transpose: 2}\n[C]Road\n{chorus}\n{transpose: 5}\n{chorus}\n{transpose}\n{transpose}\n{chorus}',
    );
    // by hand: G D7, a tone up with the C before them, a fourth up, and as they were
    expect(barsOf(found)).toEqual('G D7 D A E7 C G7 G D7'.split(' '));
    // a chorus that was moved itself comes back without that
    const moved = readChordPro('{transpose: 2}\n{soc}\n[G]one\n{eoc}\n{transpose}\n{chorus}');
    expect(barsOf(moved)).toEqual(['A', 'G']);
  });

  it('tells a chorus that was not there, and a transposition that is none', () => {
    const found = readChordPro('{chorus}\n{transpose: up}\n[G]one\n');
    expect(found.faults.map(({ where }) => where)).toEqual(['line 1, place 1', 'line 2, place 1']);
    expect(barsOf(found)).toEqual(['G']);
  });

  it('tells a chord that cannot be read by its line and place, and takes the rest', () => {
    const found = readAbc(tune('"G"G4 "Hm"B4 | "C(Am)"c8 |'));
    expect(barsOf(found)).toEqual(['G:G4 N.C.:B4', 'C:C5']);
    expect(found.faults).toHaveLength(1);
    // line 6 of the text: "G"G4 "Hm" – the H is its eighth sign
    expect(found.faults[0]?.where).toBe('line 6, place 8');
  });

  it('reads minor keys and tempo', () => {
    const found = readAbc(tune('"Am"A6 |', 'M:6/8\nL:1/8\nQ:3/8=60\nK:Am'));
    expect(found.progression.key && keyText(found.progression.key)).toBe('Am');
    // sixty dotted quarters are ninety quarters
    expect(found.progression.tempo).toBe(90);
  });

  it('says so where there is no tune', () => {
    expect(readAbc('hello').faults).toHaveLength(1);
    expect(readAbc('').faults).toHaveLength(1);
  });

  it('has a change of key where it stands, and its notes by that signature', () => {
    // ABC 2.1, 3.1.14: an inline field changes the key from there on
    const { piece } = readAbc('X:1\nM:4/4\nL:1/4\nK:F\n"F"A c f B |[K:A] "A"c e g f |]');
    expect(piece?.measures.map(({ key }) => key && keyText(key))).toEqual([undefined, 'A']);
    const names = piece?.measures.map(({ notes }) =>
      notes.map(({ pitch }) => (pitch !== 'rest' && isPitch(pitch) ? pitch.midi : 0)),
    );
    // A4 C5 F5 B flat 4, then C sharp 5 E5 G sharp 5 F sharp 5
    expect(names).toEqual([
      [69, 72, 77, 70],
      [73, 76, 80, 78],
    ]);
  });
});

describe('ChordPro', () => {
  it('takes chords from among the words, one a bar, with the head and the sections', () => {
    const found = readChordPro(
      '{title: Evening on the Lantern Road}\n{key: G}\n{tempo: 92}\n{time: 3/4}\n{start_of_verse: Verse 1}\n' +
        '[G]Down the [Em7]lantern [C]road\n[*slowly]we [D7/F#]go\n{end_of_verse}\n{soc}\n[G]Home\n{eoc}\n',
    );
    expect(barsOf(found)).toEqual(['G', 'Em7', 'C', 'D7/F#', 'G']);
    expect(found.progression.bars.map(({ section }) => section)).toEqual([
      'Verse 1',
      undefined,
      undefined,
      undefined,
      'Chorus',
    ]);
    expect(found.progression).toMatchObject({
      title: 'Evening on the Lantern Road',
      tempo: 92,
      metre: { beats: 3, unit: 4 },
    });
    expect(found.faults).toEqual([]);
  });

  it('takes the bars of a grid as they stand', () => {
    const found = readChordPro(
      '{start_of_grid}\n| C . . G7 | % |\n|: Am7 . Dm7 . :|\n{end_of_grid}\n',
    );
    expect(barsOf(found)).toEqual(['C*3 G7', 'C*3 G7', 'Am7 Dm7', 'Am7 Dm7']);
  });

  it('takes chords from lines above the words', async () => {
    const found = await read(
      'song.txt',
      'G        Em7\nDown the lantern road\n   C      D7\nwe go\n',
    );
    expect(barsOf(found)).toEqual(['G', 'Em7', 'C', 'D7']);
  });

  it('leaves plain progressions to their own reader', async () => {
    expect(barsOf(await read('song.txt', '[Verse]\nC | Am7 | Dm7 G7 | C\n'))).toEqual([
      'C',
      'Am7',
      'Dm7 G7',
      'C',
    ]);
  });

  it('undoes a capo: on the second fret, G sounds as A', () => {
    expect(barsOf(readChordPro('{capo: 2}\n[G]one [C]two [D7]three\n'))).toEqual(['A', 'D', 'E7']);
  });

  // ChordPro 6: {chorus} plays the last chorus again; {transpose} moves what follows, and without a
  // number goes back to the move before
  it('plays a chorus again where that is asked for, and moves what follows a transposition', () => {
    const found = readChordPro(
      '{soc: Refrain}\n[G]Home a[D7]gain\n{eoc}\n[C]Road\n{chorus}\n' +
        '{transpose: 2}\n[G]one\n{transpose: +3}\n[G]two\n{transpose}\n[G]three\n{transpose}\n[G]four\n{chorus: Last}',
    );
    expect(found.faults).toEqual([]);
    expect(barsOf(found)).toEqual('G D7 C G D7 A Bb A G G D7'.split(' '));
    expect(found.progression.bars.map(({ section = '' }) => section).join()).toBe(
      'Refrain,,,Refrain,,,,,,Last,',
    );
  });

  it('tells a chorus that was not there, and a transposition that is none', () => {
    const found = readChordPro('{chorus}\n{transpose: up}\n[G]one\n');
    expect(found.faults.map(({ where }) => where)).toEqual(['line 1, place 1', 'line 2, place 1']);
    expect(barsOf(found)).toEqual(['G']);
  });

  it('tells a chord that cannot be read by its line and place, and takes the rest', () => {
    const found = readChordPro('[G]one [Xy]two\n[C]three\n');
    expect(barsOf(found)).toEqual(['G', 'N.C.', 'C']);
    expect(found.faults[0]?.where).toBe('line 1, place 9');
  });

  it('passes over what is no song text', () => {
    expect(barsOf(readChordPro('{sot}\ne|--[A]--|\n{eot}\n# [B]\n[C]one\n'))).toEqual(['C']);
  });
});

describe('MusicXML', () => {
  const note = (step: string, octave: number, duration: number, more = ''): string =>
    `<note>${more}<pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>${duration}</duration></note>`;
  const harmony = (root: string, kind: string, more = ''): string =>
    `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind>${more}</harmony>`;
  const score = (measures: string, more = ''): string =>
    `<?xml version="1.0"?><!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"><score-partwise version="4.0">${more}<part-list><score-part id="P1"><part-name>Tune</part-name></score-part></part-list><part id="P1">${measures}</part></score-partwise>`;
  const head = (fifths = 0, more = ''): string =>
    `<attributes><divisions>2</divisions><key><fifths>${fifths}</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>${more}</attributes>`;
  const bars = (text: string): string[] => {
    const found = readMusicXml(text);
    if (!found.ok) throw new Error(faultText(found.error));
    return barsOf(found.value);
  };

  it('gives chords their share of the measure and the note sounding with them', () => {
    const measures = `<measure number="1">${head(1)}${harmony('C', 'major-seventh')}${note('E', 5, 4)}${harmony('A', 'minor-seventh')}${note('G', 4, 4)}</measure>
      <measure number="2">${note('D', 5, 8)}</measure>`;
    expect(bars(score(measures))).toEqual(['Cmaj7:E5 Am7:G4', 'Am7:D5']);
    const found = readMusicXml(
      score(measures, '<work><work-title>Lantern &amp; Road</work-title></work>'),
    );
    expect(found).toMatchObject({ ok: true, value: { progression: { title: 'Lantern & Road' } } });
    expect(found.ok && found.value.progression.key && keyText(found.value.progression.key)).toBe(
      'G',
    );
  });

  it('places a harmony by its offset, and goes back and forth in time', () => {
    const measure = `<measure number="1">${head()}${harmony('C', 'major')}${harmony('G', 'dominant', '<offset>4</offset>')}${note('E', 5, 8)}<backup><duration>8</duration></backup>${note('C', 4, 8, '')}</measure>`;
    expect(bars(score(measure))).toEqual(['C:E5 G7:E5']);
  });

  it('takes degrees and a bass as the standard means them', () => {
    const sharp11 =
      '<degree><degree-value>11</degree-value><degree-alter>1</degree-alter><degree-type>add</degree-type></degree>';
    const bass = '<bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>';
    // MusicXML 4.0: bass stands before degree
    expect(
      bars(
        score(
          `<measure number="1">${head()}${harmony('C', 'dominant', bass + sharp11)}${note('C', 4, 8)}</measure>`,
        ),
      ),
    ).toEqual(['C7#11/Bb:C4']);
    // the sus of a dominant: a fourth, and a seventh that counts from the minor one
    const seventh =
      '<degree><degree-value>7</degree-value><degree-alter>0</degree-alter><degree-type>add</degree-type></degree>';
    expect(
      bars(
        score(
          `<measure number="1">${head()}${harmony('G', 'suspended-fourth', seventh)}${note('C', 4, 8)}</measure>`,
        ),
      ),
    ).toEqual(['G7sus4:C4']);
    expect(
      bars(
        score(`<measure number="1">${head()}${harmony('C', 'none')}${note('C', 4, 8)}</measure>`),
      ),
    ).toEqual(['N.C.:C4']);
  });

  it('plays repeats and endings', () => {
    const bar = (number: number, kind: string, before = '', after = ''): string =>
      `<measure number="${number}">${number === 1 ? head() : ''}${before}${harmony(kind, 'major')}${note('C', 4, 8)}${after}</measure>`;
    const measures =
      bar(1, 'C', '<barline location="left"><repeat direction="forward"/></barline>') +
      bar(
        2,
        'F',
        '<barline location="left"><ending number="1" type="start"/></barline>',
        '<barline location="right"><ending number="1" type="stop"/><repeat direction="backward"/></barline>',
      ) +
      bar(
        3,
        'G',
        '<barline location="left"><ending number="2" type="start"/></barline>',
        '<barline location="right"><ending number="2" type="stop"/></barline>',
      ) +
      bar(4, 'D');
    expect(bars(score(measures)).map((each) => each.split(':')[0])).toEqual('C F C G D'.split(' '));
  });

  it('brings a transposing part to sounding pitch: written D on a B flat instrument sounds C', () => {
    const transpose = '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>';
    expect(
      bars(
        score(
          `<measure number="1">${head(2, transpose)}${harmony('D', 'major')}${note('D', 5, 8)}</measure>`,
        ),
      ),
    ).toEqual(['C:C5']);
  });

  it('tells a kind without tones of its own by its measure', () => {
    const found = readMusicXml(
      score(
        `<measure number="7">${head()}${harmony('C', 'Neapolitan')}${note('C', 4, 8)}</measure>`,
      ),
    );
    expect(found.ok && found.value.faults[0]?.where).toBe('measure 7');
  });

  it('opens a compressed score', async () => {
    const text = score(
      `<measure number="1">${head()}${harmony('C', 'major')}${note('C', 4, 8)}</measure>`,
    );
    const container =
      '<container><rootfiles><rootfile full-path="tune.musicxml"/></rootfiles></container>';
    const bytes = zipSync({
      'META-INF/container.xml': strToU8(container),
      'tune.musicxml': strToU8(text),
    });
    const found = await readProgressionFile(inMemory('tune.mxl', bytes));
    expect(found.ok && barsOf(found.value)).toEqual(['C:C4']);
  });

  it('refuses what is no score with a sentence', () => {
    for (const text of ['', 'hello', '<a><b></a>', '<html></html>', '<score-timewise/>'])
      expect(readMusicXml(text)).toMatchObject({ ok: false });
  });

  it('refuses entities, and neither expands nor fetches them', () => {
    const bomb =
      '<?xml version="1.0"?><!DOCTYPE score-partwise [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><score-partwise>&b;</score-partwise>';
    expect(readMusicXml(bomb)).toMatchObject({
      ok: false,
      error: { code: 'xml.definitions' },
    });
    expect(readMusicXml('<score-partwise>&b;</score-partwise>')).toMatchObject({ ok: false });
  });

  it('unpacks no archive to more than a score holds, whatever the archive says of itself', async () => {
    const container =
      '<container><rootfiles><rootfile full-path="tune.musicxml"/></rootfiles></container>';
    const zeros = new Uint8Array(30_000_000);
    const large = zipSync({
      'META-INF/container.xml': strToU8(container),
      'tune.musicxml': zeros,
    });
    expect(large.length).toBeLessThan(100_000);
    expect(await readProgressionFile(inMemory('tune.mxl', large))).toMatchObject({
      ok: false,
      error: { code: 'archive.tooLarge' },
    });
    // the same with a lie: the central directory claims 100 bytes (APPNOTE 4.3.12: at offset 24)
    const lying = large.slice();
    const view = new DataView(lying.buffer);
    for (let at = 0; at < lying.length - 4; at++)
      if (view.getUint32(at, true) === 0x02014b50 && view.getUint32(at + 24, true) === zeros.length)
        view.setUint32(at + 24, 100, true);
    expect(await readProgressionFile(inMemory('tune.mxl', lying))).toMatchObject({ ok: false });
  });

  it('unpacks one file of a name, however many the archive lists', async () => {
    const container = '<container><rootfiles><rootfile full-path="a.xml"/></rootfiles></container>';
    const measure = (root: string): Uint8Array =>
      strToU8(score(`<measure number="1">${harmony(root, 'major')}${note('C', 4, 8)}</measure>`));
    const bytes = zipSync({
      'META-INF/container.xml': strToU8(container),
      'a.xml': measure('C'),
      'b.xml': measure('G'),
    });
    // the second takes the name of the first, in its own head and in the central directory
    const name = strToU8('b.xml');
    for (let at = 0; at < bytes.length; at++)
      if (name.every((byte, index) => bytes[at + index] === byte)) bytes[at] = 0x61;
    const found = await readProgressionFile(inMemory('tune.mxl', bytes));
    expect(found.ok && barsOf(found.value)).toEqual(['C:C4']);
  });

  it('refuses elements nested without end', () => {
    expect(readMusicXml('<a>'.repeat(100_000))).toMatchObject({ ok: false });
  });
});

describe('files', () => {
  it('are refused unread where they are too large or of a kind that is not read', async () => {
    expect(refusedUnread('tune.musicxml', 50_000_000)?.found).toBe('50 megabytes');
    expect(refusedUnread('tune.mp3', 10)?.allowed).toContain('.musicxml');
    expect(refusedUnread('tune', 10)).toBeDefined();
    expect(refusedUnread('tune.mid', 10)?.allowed).toContain('melody');
    expect(refusedUnread('tune.abc', 10)).toBeUndefined();
    expect(
      await readProgressionFile(inMemory('tune.xml', new Uint8Array(20_000_001))),
    ).toMatchObject({
      ok: false,
    });
  });

  it('that are no text are refused', async () => {
    expect(
      await readProgressionFile(inMemory('a.txt', new Uint8Array([0xc3, 0x28]))),
    ).toMatchObject({
      ok: false,
    });
    expect(await readProgressionFile(inMemory('a.mxl', new Uint8Array([1, 2, 3])))).toMatchObject({
      ok: false,
    });
  });

  it('in UTF-16 are read where their first bytes say so', async () => {
    const text = '\uFEFFC | G7';
    const bytes = new Uint8Array(text.length * 2);
    for (let at = 0; at < text.length; at++) {
      bytes[2 * at] = text.charCodeAt(at) & 255;
      bytes[2 * at + 1] = text.charCodeAt(at) >> 8;
    }
    const found = await readProgressionFile(inMemory('a.txt', bytes));
    expect(found.ok && barsOf(found.value)).toEqual(['C', 'G7']);
  });
});
