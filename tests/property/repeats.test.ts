/**
 * Repeats and endings against a plain unrolling: pieces are made as lists of sections, written as ABC
 * (standard 2.1, 4.8 to 4.10) and as MusicXML (4.0, barline), and read back in the order of playing.
 */
import { describe, expect, it } from 'vitest';
import type { ReadProgression } from '$lib/arrange/progression';
import { faultText, type DocumentFault } from '$lib/faults';
import { readAbc } from '$lib/formats/read/abc';
import { readMusicXml } from '$lib/formats/read/musicXml';
import type { Result } from '$lib/result';
import { battery } from '../battery';

interface Made {
  /** Chords, a bar each. */
  readonly bars: readonly string[];
  /** Played so often; endings have it from their passes. */
  readonly times: number;
  /** Whether the sign that opens a repeat stands before it. */
  readonly opened: boolean;
  /** In the order of the passes. */
  readonly endings: readonly { readonly passes: readonly number[]; readonly bars: string[] }[];
}

const CHORDS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

function piece(random: () => number): Made[] {
  const whole = (least: number, most: number): number =>
    least + Math.floor(random() * (most - least + 1));
  const bars = (least: number): string[] =>
    Array.from({ length: whole(least, 3) }, () => CHORDS[whole(0, 6)] ?? 'C');
  return Array.from({ length: whole(1, 5) }, (_, at): Made => {
    const kind = whole(0, 3);
    // only what goes back to the beginning, or to a repeat before it, needs no sign
    const opened = at > 0 || random() < 0.5;
    if (kind === 0) return { bars: bars(1), times: 1, opened: false, endings: [] };
    if (kind === 1) return { bars: bars(1), times: 2, opened, endings: [] };
    let pass = 1;
    const endings = Array.from({ length: whole(2, 3) }, () => ({
      passes: Array.from({ length: whole(1, 2) }, () => pass++),
      bars: bars(1),
    }));
    return { bars: bars(1), times: 1, opened, endings };
  });
}

/** What is heard. */
function unrolled(sections: readonly Made[]): string[] {
  const heard: string[] = [];
  for (const { bars, times, endings } of sections) {
    for (let time = 0; time < times && endings.length === 0; time++) heard.push(...bars);
    for (const ending of endings)
      for (let time = 0; time < ending.passes.length; time++) heard.push(...bars, ...ending.bars);
  }
  return heard;
}

/** Whether another pass comes after some pass of an ending. */
const goesBack = (endings: Made['endings'], at: number): boolean =>
  at < endings.length - 1 || (endings[at]?.passes.length ?? 0) > 1;

function abc(sections: readonly Made[]): string {
  const line = (bars: readonly string[]): string => bars.map((bar) => `"${bar}"c4`).join(' | ');
  const body = sections.map(({ bars, times, opened, endings }) => {
    const main = `${opened ? '|: ' : ''}${line(bars)}`;
    if (endings.length === 0) return `${main} ${times === 2 ? ':|' : '||'}`;
    const ends = endings.map((ending, at) => {
      const numbers = ending.passes.join(',');
      return `${at === 0 ? ' |' : ''}[${numbers} ${line(ending.bars)} ${goesBack(endings, at) ? ':|' : '||'}`;
    });
    return main + ends.join('');
  });
  return `X:1\nM:4/4\nL:1/4\nK:C\n${body.join('\n')}\n`;
}

function musicXml(sections: readonly Made[]): string {
  const measures: string[] = [];
  const add = (chord: string, left: string, right: string): void => {
    const line = (at: string, signs: string): string =>
      signs === '' ? '' : `<barline location="${at}">${signs}</barline>`;
    measures.push(
      `<measure number="${measures.length + 1}">${line('left', left)}<harmony><root><root-step>${chord}</root-step></root><kind>major</kind></harmony><note><rest/><duration>4</duration></note>${line('right', right)}</measure>`,
    );
  };
  const back = '<repeat direction="backward"/>';
  for (const { bars, times, opened, endings } of sections) {
    bars.forEach((bar, at) => {
      const last = at === bars.length - 1 && endings.length === 0 && times === 2;
      add(bar, at === 0 && opened ? '<repeat direction="forward"/>' : '', last ? back : '');
    });
    endings.forEach(({ passes, bars: own }, ending) => {
      const sign = (type: string): string =>
        `<ending number="${passes.join(', ')}" type="${type}"/>`;
      own.forEach((bar, at) => {
        const last = at === own.length - 1;
        const stop = goesBack(endings, ending) ? sign('stop') + back : sign('discontinue');
        add(bar, at === 0 ? sign('start') : '', last ? stop : '');
      });
    });
  }
  return `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>x</part-name></score-part></part-list><part id="P1">${measures.join('')}</part></score-partwise>`;
}

const heard = ({ progression }: ReadProgression): string[] =>
  progression.bars.flatMap(({ slots }) =>
    slots.map(({ chord }) => (chord === 'no chord' ? 'N.C.' : chord.symbol)),
  );

function wholeOf(read: Result<ReadProgression, DocumentFault>): ReadProgression {
  if (!read.ok) throw new Error(faultText(read.error));
  return read.value;
}
const tuneOf = (text: string): ReadProgression => wholeOf(readAbc(text));
const scoreOf = (text: string): ReadProgression => wholeOf(readMusicXml(text));

battery(
  'repeats and their endings are played as written',
  { slice: 150, whole: 5_000 },
  ({ count, random }) => {
    for (let number = 0; number < count; number++) {
      const made = piece(random);
      const wanted = unrolled(made);
      expect(heard(tuneOf(abc(made))), abc(made)).toEqual(wanted);
      expect(heard(scoreOf(musicXml(made))), musicXml(made)).toEqual(wanted);
    }
  },
);

describe('a repeat', () => {
  const chords = (body: string): string => heard(tuneOf(`X:1\nL:1/4\nK:C\n${body}\n`)).join(' ');

  // each read off by hand
  it.each([
    [
      'straight after endings',
      '|: "C"C4 |1 "F"F4 :|2 "C"C4 || |: "G"G4 | "D"D4 :|',
      'C F C C G D G D',
    ],
    [
      'opened by the line that ends the endings',
      '|: "C"C4 |1 "F"F4 :|2 "C"C4 |: "G"G4 :|',
      'C F C C G G',
    ],
    ['of one sign that closes and opens', '|: "C"C4 :: "D"D4 :| "E"E4 |', 'C C D D E'],
    ['without an opening sign, after a double bar (ABC 2.1, 4.8)', '"C"C4 || "D"D4 :|', 'C D D'],
    ['with a double bar inside', '|: "C"C4 || "D"D4 :|', 'C D C D'],
    ['of nothing', '"C"C4 |: :| "D"D4 |', 'C D'],
    ['with one ending only', '|: "C"C4 |1 "F"F4 :| "G"G4 |', 'C F C G'],
    ['whose last ending has the sign too', '|: "C"C4 |1 "F"F4 :|2 "G"G4 :| "D"D4 |', 'C F C G D'],
    [
      'of three passes with two endings',
      '|: "C"C4 |1,3 "F"F4 :|2 "G"G4 :|4 "D"D4 |',
      'C F C G C F C D',
    ],
  ])('%s', (_what, body, wanted) => {
    expect(chords(body)).toBe(wanted);
  });

  it('that is opened by the barline before its first measure is played from there', () => {
    const measure = (chord: string, sign = ''): string =>
      `<measure number="1"><harmony><root><root-step>${chord}</root-step></root><kind>major</kind></harmony><note><rest/><duration>4</duration></note>${sign}</measure>`;
    const line = (direction: string): string =>
      `<barline location="right"><repeat direction="${direction}"/></barline>`;
    const text = `<score-partwise version="4.0"><part id="P1">${measure('C', line('forward'))}${measure('D', line('backward'))}</part></score-partwise>`;
    expect(heard(scoreOf(text))).toEqual(['C', 'D', 'D']);
  });

  it('without end is played as far as a piece may go, and that is told', () => {
    const text = `<score-partwise version="4.0"><part id="P1"><measure number="1"><harmony><root><root-step>C</root-step></root><kind>major</kind></harmony><note><rest/><duration>4</duration></note><barline location="right"><repeat direction="backward" times="1e300"/></barline></measure></part></score-partwise>`;
    const { progression, faults } = scoreOf(text);
    expect(progression.bars).toHaveLength(1000);
    expect(faults.map(({ code }) => code)).toEqual(['piece.tooManyChords']);
  });
});
