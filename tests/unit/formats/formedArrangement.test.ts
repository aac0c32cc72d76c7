/**
 * Arrangements written with the form of their piece. Where passes are alike follows from what is asked (one
 * fret for all, or another fret for the second pass); what is to stand in the files is read off the pieces by hand.
 */
import JZZ from 'jzz';
import smf from 'jzz-midi-smf';
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { withPasses } from '$lib/arrange/passes';
import { orderOf } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { readProgression } from '$lib/arrange/readText';
import { writePiece } from '$lib/arrange/writeText';
import { readWishes } from '$lib/answers/readWishes';
import type { WishTexts } from '$lib/answers/wishParts';
import { builtIn } from '$lib/setup/builtIns';
import { faultText } from '$lib/faults';
import { formOf } from '$lib/formats/arrangedForm';
import { metresOf } from '$lib/formats/arrangedScore';
import { kindOfFile } from '$lib/formats/progressionFiles';
import { readAbc } from '$lib/formats/read/abc';
import { readChordPro } from '$lib/formats/read/chordPro';
import { readMusicXml } from '$lib/formats/read/musicXml';
import type { ReadPiece } from '$lib/formats/read/score';
import { hasPoppler, pdfText } from './poppler';

const E9 = builtIn('e9');
const arranged = (text: string, asked: WishTexts = { frets: '3-3', sizes: '3-3' }) => {
  const read = readProgression(text);
  const { piece } = read;
  if (piece === undefined) throw new Error('a piece was expected');
  return arrangedPiece({ ...read, piece }, asked);
};
function arrangedPiece({ progression, piece }: ReadPiece, asked: WishTexts) {
  const wishes = readWishes(E9, asked);
  if (!wishes.ok) throw new Error('wishes were expected');
  const [way] = arrange(E9, progression, withPasses(wishes.value, progression, piece), 1).ways;
  if (way === undefined) throw new Error('a way was expected');
  return { setup: E9, progression, piece, way, paper: 'A4' as const };
}
const written = async (
  ending: string,
  arrangement: ReturnType<typeof arranged>,
): Promise<string> => {
  const bytes = await kindOfFile(`x.${ending}`)?.write?.(arrangement);
  return new TextDecoder().decode(bytes);
};
/** The quarter note at which the last string of a MIDI file is damped, as another library reads it. */
function lastsFor(bytes: Uint8Array): number {
  interface Smf extends Iterable<Iterable<{ readonly tt: number; readonly [at: number]: number }>> {
    readonly ppqn: number;
  }
  smf(JZZ);
  const { SMF } = JZZ.MIDI as unknown as { SMF: new (data: string) => Smf };
  const file = new SMF(String.fromCharCode(...bytes));
  const notes = [...file].flatMap((track) =>
    [...track].filter((message) => ((message[0] ?? 0) & 0xe0) === 0x80),
  );
  return Math.max(...notes.map(({ tt }) => tt / file.ppqn));
}
const order = (piece: Piece): readonly number[] => orderOf(piece.measures).order;

const AABA =
  'title: Lantern Road\npickup: 1/4\nG7\n[A]\n|: C | F | C |1. G7 :|2. C ||\n[B]\nF | C | F | G7\n[A]\nC | F | C | C\n';

describe('an arrangement in which what is repeated is played alike', () => {
  it('has its repeats and endings in tablature, and numbers no pickup', async () => {
    const tab = await written('txt', arranged(AABA));
    // 1 pickup, 3 measures, 2 endings, B and A again: 14 measures instead of 18
    const lines = tab.match(/^6 G♯.*$/gmu) ?? [];
    // every measure has one line before it, and every line of tablature one at its end
    const bars = lines.reduce((sum, line) => sum + line.split('|').length - 2, 0);
    expect(bars).toBe(14);
    expect(tab).toContain(' 1. ');
    expect(tab).not.toContain('written out');
    const svg = await written('svg', arranged(AABA));
    const numbers = [...svg.matchAll(/>(\d+)<\/text>/gu)].map(([, number]) => Number(number));
    expect(numbers).toContain(13);
    expect(numbers).not.toContain(14);
  });

  it('fills one page of paper with an AABA chart', async () => {
    const chart = AABA.replace('F | C | F | G7', 'F | C | F | C | F | C | F | G7');
    const pdf = await written('pdf', arranged(chart));
    expect(pdf.match(/\/Type\s*\/Page\b/gu)?.length).toBe(1);
  });

  it('is read back from a score with its form', async () => {
    const arrangement = arranged(AABA);
    const read = readMusicXml(await written('musicxml', arrangement));
    if (!read.ok) throw new Error(faultText(read.error));
    expect(order(read.value.piece)).toEqual(order(arrangement.piece));
    expect(read.value.piece.measures.length).toBe(14);
  });
});

describe('an arrangement under what players are given who ask for nothing', () => {
  // 32 measures as played: A twice with two endings, B, and A once more as it is written
  const A = 'G | Em7 | Am7 | D7 | G | C | Am7 D7';
  const chart = `title: Willow Landing\n[A]\n|: ${A} |1. G D7 :|2. G ||\n[B]\nC | Cm6 | G | E7 | A7 | A7 | Am7 | D7\n[A]\n${A} | G\n`;
  const arrangement = arranged(chart, {});
  const played = [...'abcdefgh', ...'abcdefgi', ...'jklmnopqrstuvwxy'].map(
    (letter) => letter.charCodeAt(0) - 'a'.charCodeAt(0),
  );

  it('is read back with its repeat from every format that has one', async () => {
    expect(order(arrangement.piece)).toEqual(played);
    const backs = {
      musicxml: readMusicXml(await written('musicxml', arrangement)),
      abc: readAbc(await written('abc', arrangement)),
    };
    for (const back of Object.values(backs)) {
      if (!back.ok) throw new Error(faultText(back.error));
      expect(order(back.value.piece)).toEqual(played);
      expect(back.value.piece.measures).toHaveLength(25);
    }
    const song = readChordPro(await written('cho', arrangement)).piece;
    expect(song === undefined ? [] : order(song)).toEqual(played);
    expect(song?.measures).toHaveLength(25);
    const text = readProgression(writePiece(arrangement.piece)).piece;
    expect(text === undefined ? [] : order(text)).toEqual(played);
  });

  it('is played out in MIDI, measure by measure, and written once in tablature', async () => {
    const bytes = await kindOfFile('x.mid')?.write?.(arrangement);
    // 32 measures of four quarters, after which the last chord rings out
    expect(lastsFor(bytes ?? new Uint8Array())).toBeGreaterThanOrEqual(32 * 4);
    expect(lastsFor(bytes ?? new Uint8Array())).toBeLessThan(33 * 4);
    const lines = (await written('txt', arrangement)).match(/^6 G♯.*$/gmu) ?? [];
    expect(lines.reduce((sum, line) => sum + line.split('|').length - 2, 0)).toBe(25);
  });

  it.each(['A4', 'Letter'] as const)('fills one page of %s with its repeat', async (paper) => {
    const bytes = await kindOfFile('x.pdf')?.write?.({ ...arrangement, paper });
    const pdf = new TextDecoder().decode(bytes);
    expect(pdf.match(/\/Type\s*\/Page\b/gu)?.length).toBe(1);
    if (!hasPoppler) return console.log('not looked at: poppler-utils is absent');
    const words = pdfText(bytes ?? new Uint8Array());
    // both endings, and a number for each measure that is written
    expect(words).toMatch(/\b1\.\s+2\./u);
    expect(words).toMatch(/\b25\b/u);
    expect(words).not.toMatch(/\b26\b/u);
  });
});

describe('an arrangement in which it is played otherwise', () => {
  const twice = '|: C | F :|\nG7 | C';
  const locked: WishTexts = { locks: '1=fret:8;3=fret:3', passes: 'free' };

  it('is written out, and says so', async () => {
    const arrangement = arranged(twice, locked);
    const form = formOf(E9, arrangement.progression, arrangement.way.steps, arrangement.piece);
    expect(form.isWrittenOut).toBe(true);
    expect(form.piece.measures.length).toBe(6);
    expect(await written('txt', arrangement)).toContain(
      'played otherwise each time is written out',
    );
    const read = readMusicXml(await written('musicxml', arrangement));
    if (!read.ok) throw new Error(faultText(read.error));
    expect(order(read.value.piece)).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it('keeps the repeat before a jump that alone leads to something else', () => {
    const text = '|: C | F :|\nG7 | C (D.C.)';
    // chords 7 to 10 come after the jump: C F G7 C, each measure once
    const arrangement = arranged(text, {
      ...{ frets: '3-8', passes: 'free' },
      locks: '1=fret:8;3=fret:8;7=fret:3',
    });
    const form = formOf(E9, arrangement.progression, arrangement.way.steps, arrangement.piece);
    const { measures } = form.piece;
    expect(measures.some(({ jump }) => jump !== undefined)).toBe(false);
    expect(order(form.piece).length).toBe(order(arrangement.piece).length);
  });
});

describe('an arrangement of a tune with a pickup that has no chord', () => {
  const read = readAbc(
    'X:1\nM:3/4\nL:1/4\nK:G\nD|:"G"G2 B|"G"A2 F:|\nw: Down the road we go\nM:4/4\n"C"c4|\n',
  );
  if (!read.ok) throw new Error(faultText(read.error));
  const arrangement = arrangedPiece(read.value, { frets: '3-3', sizes: '3-3' });

  it('is put under the measures that have chords', async () => {
    const form = formOf(E9, arrangement.progression, arrangement.way.steps, arrangement.piece);
    expect(form.isPlayed).toEqual([false, true, true, true]);
    expect(form.steps.size).toBe(3);
    const tab = await written('txt', arrangement);
    expect(tab).toContain('Down');
    expect(tab).toContain('the road');
    expect(tab).not.toContain('N.C.');
  });

  it('changes metre in MIDI where it does, from the first measure that is played', () => {
    const form = formOf(E9, arrangement.progression, arrangement.way.steps, arrangement.piece);
    // two measures of three quarters, twice
    expect(metresOf(form)).toEqual([
      { at: 0, metre: { beats: 3, unit: 4 } },
      { at: 12, metre: { beats: 4, unit: 4 } },
    ]);
  });
});
