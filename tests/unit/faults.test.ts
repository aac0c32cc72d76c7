/** Faults of documents: each code is told by something that people can give, in a whole sentence. */
import { readFileSync } from 'node:fs';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { FAULT_CODES } from '$lib/faultCodes';
import { faultText, type DocumentFault, type FaultCode } from '$lib/faults';
import type { Result } from '$lib/result';
import { withMelody } from '$lib/arrange/melody';
import type { ProgressionFault } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { readRepertoire, readRepertoireFile } from '$lib/coverage/repertoireFile';
import { readAbc } from '$lib/formats/read/abc';
import { readChart } from '$lib/formats/read/chart/readChart';
import { readChordPro } from '$lib/formats/read/chordPro';
import { readProgressionFile, readTuneFile } from '$lib/formats/progressionFiles';
import { readMusicXml } from '$lib/formats/read/musicXml';
import { readMxl } from '$lib/formats/read/mxl';
import { readTablature } from '$lib/formats/read/tablature';
import { builtIn } from '$lib/setup/builtIns';
import { proposed, type Proposal } from '$lib/setup/proposal';
import { MOST_CHARACTERS, MOST_FILE_BYTES, readSetup, readSetupText } from '$lib/setup/readSetup';
import { practiceKind } from '$lib/storage/practiceKind';
import { progressionKind } from '$lib/storage/progressionKind';
import { textOf } from '$lib/storage/textFile';
import { readKey } from '$lib/theory/spelling';
import { inRoot } from '../../scripts/lib/root.mjs';
import { BROKEN } from './setup/invalidSetups';
import { inMemory } from '../inMemory';

type Faults = readonly DocumentFault[];
type Told = Result<unknown, DocumentFault | Faults>;
const faultsOf = (read: Told): Faults => (read.ok ? [] : [read.error].flat());

const string = { open: 'C4' };
const pull = { string: 1, semitones: 2 };
/** A setup of two strings with one control. */
const withControl = (control: object, more: object = {}): Told =>
  readSetup({
    format: 1,
    name: 'two strings',
    necks: [{ name: 'one', strings: [string, string] }],
    controls: [{ id: 'A', station: 'P1', pulls: [pull], ...control }],
    ...more,
  });
const keys = (count: number): object =>
  Object.fromEntries(Array.from({ length: count }, (_, key) => [`key ${key}`, 0]));
const change = (proposal: Proposal, id: 'e9' | 'lap6-c6' = 'e9'): Told =>
  proposed(builtIn(id), proposal);
const progression = (parts: object): Told =>
  progressionKind.read(JSON.stringify({ format: 1, setup: 'e9', chords: 'C', ...parts }));
const practice = (parts: object): Told =>
  practiceKind.read(
    JSON.stringify({ format: 1, practice: 'E9', setup: 'e9', answers: {}, ...parts }),
  );
const types = (...list: object[]): Told => readRepertoire({ format: 1, types: list });
const fileOf = (size: number, bytes: readonly number[]): Promise<Told> =>
  textOf({
    name: 'x',
    size,
    arrayBuffer: () => Promise.resolve(new Uint8Array(bytes).buffer),
  });

const file = (text: string): Uint8Array => strToU8(text);
const inPart = (measures: string): string =>
  `<score-partwise><part>${measures}</part></score-partwise>`;
const inMeasure = (notes: string): string => inPart(`<measure>${notes}</measure>`);
const archive = (files: Record<string, Uint8Array>): Uint8Array =>
  zipSync({
    'META-INF/container.xml': file(
      '<container><rootfiles><rootfile full-path="a.xml"/></rootfiles></container>',
    ),
    ...files,
  });
/** One track without notes; the two bytes say how time is counted (Standard MIDI Files 1.1, division). */
const midi = (...division: [number, number]): Uint8Array =>
  Uint8Array.of(
    ...[...file('MThd'), 0, 0, 0, 6, 0, 0, 0, 1, ...division],
    ...[...file('MTrk'), 0, 0, 0, 4, 0, 0xff, 0x2f, 0],
  );

/** Beside the broken setups: what has each code, and at which path. */
const EXAMPLES: readonly (readonly [FaultCode, path: string, () => Told | Promise<Told>])[] = [
  ['chart.empty', '', () => readChart(' \n')],
  ['chart.none', '', () => readChart('Nothing of this is a chart.')],
  ['chart.noNotes', '', () => readChart('Str,Note,P1\n1,E4,+1\n2,,+1\n3,A3,+1')],
  ['chart.tooMuch', '', () => readChart('E4\n'.repeat(500))],
  [
    'chart.impossible',
    'necks[0].strings[0].open',
    () => readChart('Str,Note,P1\n1,C-1,+1\n2,C4,+1\n3,A3,+1'),
  ],
  ['tablature.none', '', () => readTablature('Nothing of this is played.', builtIn('e9'))],
  ['file.tooLarge', '', () => fileOf(MOST_FILE_BYTES + 1, [])],
  ['file.notUtf8', '', () => fileOf(1, [0x80])],
  [
    'file.unreadable',
    '',
    () => textOf({ name: 'x', size: 1, arrayBuffer: () => Promise.reject(new Error('no')) }),
  ],
  ['text.tooLong', '', () => readRepertoireFile(' '.repeat(100_001))],
  ['text.tooLong', '', () => progressionKind.read(' '.repeat(200_001))],
  ['text.notJson', '', () => readSetupText('E9')],
  ['text.notJson', '', () => readRepertoireFile('m7')],
  ['document.notAnObject', '', () => readSetup([])],
  ['value.object', '', () => readRepertoire([])],
  ['keys.tooMany', 'reach', () => withControl({}, { reach: keys(60_000) })],
  ['value.list', 'controls', () => withControl({}, { controls: Array(60_000).fill(0) })],
  ['setup.tooLong', '', () => readSetupText(' '.repeat(MOST_CHARACTERS + 1))],
  ['setup.tooMuch', '', () => readSetup(keys(60_000))],
  [
    'key.unknown',
    'controls[0].drops[0].x',
    () => withControl({ drops: [{ string: 2, cents: 3, x: 1 }] }),
  ],
  ['key.missing', 'controls[0].drops[0].cents', () => withControl({ drops: [{ string: 2 }] })],
  [
    'value.leverage',
    'controls[0].pulls[0].leverage',
    () => withControl({ pulls: [{ ...pull, leverage: 0 }] }),
  ],
  [
    'halfCents.withoutHalf',
    'controls[0].pulls[0].halfCents',
    () => withControl({ pulls: [{ ...pull, halfCents: 5 }] }),
  ],
  [
    'drop.ofPulledString',
    'controls[0].drops[0]',
    () => withControl({ drops: [{ string: 1, cents: 3 }] }),
  ],
  [
    'drop.twice',
    'controls[0].drops[1]',
    () =>
      withControl({
        drops: [
          { string: 2, cents: 3 },
          { string: 2, cents: 4 },
        ],
      }),
  ],
  ['control.form', 'with', () => change({ with: ['LKV'] })],
  ['control.station', 'with', () => change({ with: ['XYZ:5-1'] })],
  ['control.pull', 'with', () => change({ with: ['LKV:5'] })],
  ['control.pullTwice', 'with', () => change({ with: ['LKV:5-1,5-2'] })],
  ['control.neck', 'with', () => change({ with: ['LKV:2.5-1'] })],
  ['control.string', 'with', () => change({ with: ['LKV:11-1'] })],
  ['control.semitones', 'with', () => change({ with: ['LKV:5-8'] })],
  ['control.half', 'with', () => change({ with: ['LKV:5+1/-2'] })],
  ['without.unknown', 'without', () => change({ without: ['Q'] })],
  ['without.unknown', 'without', () => change({ without: ['A'] }, 'lap6-c6')],
  ['open.unreadable', 'open', () => change({ open: ['1:H4'] })],
  ['value.weight', 'types[0].weight', () => types({ type: 'm7', weight: 0 })],
  ['value.chordType', 'types[0].type', () => types({ type: 'zz', weight: 1 })],
  ['key.unknown', 'types[0].kind', () => types({ type: 'm7', weight: 1, kind: 1 })],
  ['key.missing', 'types[0].weight', () => types({ type: 'm7' })],
  [
    'chordType.twice',
    'types[1].type',
    () => types({ type: 'm7', weight: 1 }, { type: '-7', weight: 2 }),
  ],
  ['practice.tooLong', '', () => practiceKind.read(' '.repeat(2_000_001))],
  ['practice.notJson', '', () => practiceKind.read('known')],
  ['practice.notARecord', '', () => practiceKind.read('[]')],
  ['practice.format', 'format', () => practice({ format: 2 })],
  ['practice.text', 'setup', () => practice({ setup: 9 })],
  ['practice.answers', 'answers.find/x', () => practice({ answers: { 'find/x': [1, 5] } })],
  ['progression.notJson', '', () => progressionKind.read('C | F')],
  ['progression.notAnObject', '', () => progressionKind.read('[]')],
  ['progression.format', 'format', () => progression({ format: 4 })],
  ['progression.setup', 'setup', () => progression({ setup: 9 })],
  ['progression.text', 'chords', () => progression({ chords: 9 })],
  ['progression.text', 'wishes.top', () => progression({ wishes: { top: 9 } })],
  ['progression.wishes', 'wishes', () => progression({ wishes: 9 })],
  ['file.kind', '', () => readProgressionFile(inMemory('tune.mp3', file('')))],
  ['file.notesOnly', '', () => readProgressionFile(inMemory('tune.mid', file('')))],
  ['file.tooLarge', '', () => readProgressionFile(inMemory('tune.abc', new Uint8Array(2_000_001)))],
  ['file.notUtf8', '', () => readProgressionFile(inMemory('tune.abc', Uint8Array.of(0x80)))],
  // a line of words at the end of a tune without notes, which the reader of the notation breaks at
  ['file.senseless', '', () => readProgressionFile(inMemory('tune.abc', file('1\nT:\nT:')))],
  ['text.tooLong', 'the tune', () => readAbc(`X:1\nK:C\n${'c'.repeat(100_000)}`)],
  ['xml.malformed', 'line 2', () => readMusicXml('<a>\n<b></a>')],
  ['xml.empty', '', () => readMusicXml('')],
  ['xml.definitions', 'line 1', () => readMusicXml('<!DOCTYPE a [<!ENTITY b "c">]><a/>')],
  ['xml.tooDeep', 'line 1', () => readMusicXml('<a>'.repeat(65))],
  ['xml.tooManyElements', 'line 1', () => readMusicXml(inPart('<a/>'.repeat(1_000_000)))],
  ['xml.tooFull', 'line 1', () => readMusicXml(inMeasure('<a/>'.repeat(50_000)))],
  [
    'xml.tooFull',
    'line 1',
    () => readMusicXml(`<a ${Array.from({ length: 101 }, (_, at) => `b${at}=""`).join(' ')}/>`),
  ],
  ['score.root', '', () => readMusicXml('<html/>')],
  ['score.noParts', '', () => readMusicXml('<score-partwise/>')],
  ['score.tooMany', '', () => readMusicXml(inPart('<measure/>'.repeat(20_001)))],
  [
    'score.tooMany',
    '',
    () => {
      const note =
        '<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration></note>';
      return readMusicXml(inPart(`<measure>${note.repeat(5000)}</measure>`.repeat(11)));
    },
  ],
  ['archive.damaged', '', () => readMxl(file('PK'))],
  ['archive.noContents', '', () => readMxl(zipSync({ 'a.xml': file('<a/>') }))],
  ['archive.noScore', '', () => readMxl(archive({}))],
  ['archive.tooLarge', '', () => readMxl(archive({ 'a.xml': new Uint8Array(20_000_001) }))],
  ['midi.header', '', () => readTuneFile(inMemory('tune.mid', file('X')))],
  ['midi.damaged', '', () => readTuneFile(inMemory('tune.mid', file('MThd')))],
  ['midi.filmFrames', '', () => readTuneFile(inMemory('tune.mid', midi(0xe7, 0x28)))],
  ['midi.noNotes', '', () => readTuneFile(inMemory('tune.mid', midi(0, 96)))],
  ['tonality.unreadable', '', () => readKey('H')],
];

const withHead = (line: string) => readProgression(`${line}\nC`);
const melody = (text: string) => withMelody(readProgression('C').progression, text);
const abc = (text: string) => {
  const read = readAbc(text);
  if (!read.ok) throw new Error(faultText(read.error));
  return read.value;
};
const scoreWith = (measure: string) => {
  const read = readMusicXml(
    `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>x</part-name></score-part></part-list><part id="P1"><measure number="1">${measure}<note><rest/><duration>4</duration></note></measure></part></score-partwise>`,
  );
  if (!read.ok) throw new Error(faultText(read.error));
  return read.value;
};
const harmony = (kind: string, degree = '', root = 'C') =>
  scoreWith(
    `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind>${degree === '' ? '' : `<degree><degree-value>${degree}</degree-value><degree-alter>0</degree-alter><degree-type>add</degree-type></degree>`}</harmony>`,
  );

/** What has each code among pieces that can be read in part, and where. */
const PIECES: readonly (readonly [
  FaultCode,
  where: string,
  () => { readonly faults: readonly ProgressionFault[] },
])[] = [
  ['piece.noBars', 'line 1, place 1', () => readProgression('')],
  ['piece.noChordsInSong', 'line 1, place 1', () => readChordPro('la la')],
  ['piece.signLost', 'measure 1', () => abc('X:1\nK:C\n"C"C !D.S.!|')],
  ['piece.noChorus', 'line 1, place 1', () => readChordPro('{chorus}\n[C]la')],
  ['piece.transpose', 'line 1, place 1', () => readChordPro('{transpose: up}\n[C]la')],
  ['piece.noChordsInScore', 'the file', () => scoreWith('')],
  ['piece.noTune', 'the file', () => abc('')],
  ['piece.tooManyChords', 'line 1, place 2001', () => readProgression('C '.repeat(1001))],
  ['piece.tooManyChords', 'line 1, place 4002', () => readChordPro('[C] '.repeat(1001))],
  [
    'piece.tooManyFaults',
    'line 1001, place 1',
    () => ({ faults: readProgression('. \n'.repeat(1002)).faults.slice(1000) }),
  ],
  ['line.tooLong', 'line 1, place 1', () => readChordPro(' '.repeat(20_000) + '[C]')],
  ['head.key', 'line 1, place 6', () => withHead('key: H')],
  ['head.tempo', 'line 1, place 8', () => withHead('tempo: 9')],
  ['head.metre', 'line 1, place 7', () => withHead('time: 4/5')],
  ['chord.unreadable', 'line 1, place 3', () => readProgression('C Xm')],
  ['chord.otherwise', 'line 1, place 3', () => readProgression('C Hm')],
  ['chord.unreadable', 'line 1, place 2', () => readChordPro('[Hm]la')],
  ['chord.unreadable', 'line 3, place 2', () => abc('X:1\nK:C\n"Hm"C|')],
  ['bar.empty', 'line 1, place 5', () => readProgression('C | | F')],
  ['bar.repeatedWithoutRepeat', 'line 1, place 3', () => readProgression('C |x3')],
  ['bar.nothingBefore', 'line 1, place 1', () => readProgression('% | C')],
  ['section.unnamed', 'line 1, place 1', () => readProgression('[] C')],
  ['chord.nothingToHold', 'line 1, place 1', () => readProgression('. C')],
  ['harmony.withoutRoot', 'measure 1', () => harmony('major', '', 'H')],
  ['harmony.unknownKind', 'measure 1', () => harmony('odd')],
  ['harmony.impossibleDegree', 'measure 1', () => harmony('major', '14')],
  ['harmony.ofOneTone', 'measure 1', () => harmony('other')],
  ['melody.atChord', 'line 1, place 3', () => readProgression('C:Q')],
  ['melody.withoutChords', 'line 1, place 8', () => readProgression('melody: C4\nC')],
  ['melody.inLine', 'melody, place 1', () => melody('Q')],
  ['melody.tooManyNotes', 'melody, place 4', () => melody('C4 D4')],
  ['melody.tooManyBars', 'melody, place 5', () => melody('C4 | D4')],
];

describe('a fault of a document', () => {
  it.each(EXAMPLES)('%s at “%s”', async (code, path, given) => {
    expect(faultsOf(await given()).map((each) => [each.code, each.path])).toEqual([[code, path]]);
  });

  it.each(PIECES)('%s at %s', (code, where, given) => {
    expect(given().faults.map((each) => [each.code, each.where])).toEqual([[code, where]]);
  });

  it('has examples for every code, and each is a whole sentence', async () => {
    const files = BROKEN.flatMap(({ file }) =>
      faultsOf(readSetupText(readFileSync(inRoot(`shared/setups/invalid/${file}.json`), 'utf8'))),
    );
    const others = await Promise.all(EXAMPLES.map(async ([, , given]) => faultsOf(await given())));
    const documents = [...files, ...others.flat()];
    const pieces = PIECES.flatMap(([, , given]) => given().faults);
    const all = [...documents, ...pieces];
    expect([...new Set(all.map(({ code }) => code))].sort()).toEqual([...FAULT_CODES].sort());
    for (const fault of documents)
      expect(faultText(fault)).toBe(
        `${fault.path === '' ? 'The file' : fault.path}: found ${fault.found}; allowed is ${fault.allowed}.`,
      );
    for (const { code, found, allowed } of all) {
      for (const words of [found, allowed]) {
        expect(words, code).toMatch(/^\S/);
        expect(words, code).not.toMatch(/undefined|NaN|\[object|function|=>|[,.]$|, ,/);
      }
    }
  });
});
