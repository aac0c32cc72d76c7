/**
 * What is written is read back by others: the score by the W3C's schema and by an independent reader
 * (`musicxml-io`), MIDI by another library than the one that writes it (`jzz-midi-smf`), ABC by
 * `abcjs`'s player. The piece is worked out by hand: on E9 the strings 3, 4 and 5 (G♯4 E4 B3) with the bar
 * at fret 8 sound E5 C5 G4; A (5 up a tone) and B (3 up a semitone) make F5 C5 A4 of them.
 */
import { existsSync, readFileSync } from 'node:fs';
import abcjs from 'abcjs';
import fc from 'fast-check';
import JZZ from 'jzz';
import smf from 'jzz-midi-smf';
import {
  XmlBufferInputProvider,
  XmlDocument,
  XsdValidator,
  xmlRegisterInputProvider,
} from 'libxml2-wasm';
import { getAllNotes, getHarmonies, parse } from 'musicxml-io';
import { beforeAll, describe, expect, it } from 'vitest';
import { readChord } from '$lib/theory/readChord';
import { builtIn } from '$lib/setup/builtIns';
import { stepsOf, type Bar, type Progression, type Slot } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { faultText } from '$lib/faults';
import { readAbc } from '$lib/formats/read/abc';
import { readChordPro } from '$lib/formats/read/chordPro';
import { readMidiTune, withTune } from '$lib/formats/read/midi';
import type { BandNote } from '$lib/playing/band/band';
import { readMusicXml } from '$lib/formats/read/musicXml';
import { writeAbc } from '$lib/formats/write/abc';
import { asWritten, pieceOf } from '$lib/arrange/pieceOf';
import { anyTune } from '../../property/anyPiece';
import { writeChordPro } from '$lib/formats/write/chordPro';
import { toldOfMidi, writeMidiFile } from '$lib/formats/write/midi';
import { writeMusicXml } from '$lib/formats/write/musicXml';
import type { PlayedStep } from '$lib/formats/write/musicXmlNotes';
import { valuesOf } from '$lib/formats/write/noteValues';
import { runs } from '../../battery';

const piece = (text: string): Progression => readProgression(text).progression;
const tonesOf = (symbol: string): PlayedStep['tones'] => {
  const read = readChord(symbol);
  return read.ok && read.value !== 'no chord' ? read.value.tones : [];
};
const hold = (index: number, symbol: string, more: Partial<PlayedStep> = {}): PlayedStep => ({
  index,
  tones: tonesOf(symbol),
  neck: 1,
  strings: [3, 4, 5],
  frets: [8, 8, 8],
  pitches: [76, 72, 67],
  engaged: [],
  held: [],
  again: [],
  ...more,
});
const AB = [
  { id: 'A', state: 'full' },
  { id: 'B', state: 'full' },
] as const;
const WAY = [hold(0, 'C'), hold(1, 'F', { pitches: [77, 72, 69], engaged: AB, held: [3, 4, 5] })];

const schema = new URL('../../../../shared/checks/musicxml/', import.meta.url);
const present = existsSync(schema);
if (!present) console.log('skipped: ../shared/checks/musicxml is absent');

describe('a MusicXML score', () => {
  let validator: XsdValidator | undefined;
  beforeAll(() => {
    if (!present) return;
    const file = (name: string): Uint8Array => readFileSync(new URL(name, schema));
    xmlRegisterInputProvider(
      new XmlBufferInputProvider({
        'xml.xsd': file('xml.xsd'),
        'xlink.xsd': file('xlink.xsd'),
      }),
    );
    validator = XsdValidator.fromDoc(XmlDocument.fromBuffer(file('musicxml.xsd')));
  });
  /** The W3C's MusicXML 4.0 schema has nothing against a text; throws with what it has. */
  const validate = (text: string): void => {
    const document = XmlDocument.fromString(text);
    try {
      validator?.validate(document);
    } finally {
      document.dispose();
    }
  };

  it.skipIf(!present)('is valid by the schema of MusicXML 4.0, and what is altered is not', () => {
    const text = writeMusicXml(builtIn('e9'), piece('[Verse <1>]\nC F'), WAY);
    expect(() => validate(text)).not.toThrow();
    expect(() =>
      validate(text.replace('<kind text="">major</kind>', '<kind>bogus</kind>')),
    ).toThrow();
  });

  it('holds every note with its string, fret and length, and the chords, as another program reads it', () => {
    const score = parse(writeMusicXml(builtIn('e9'), piece('key: C\ntempo: 92\nC F . .'), WAY));
    const notes = getAllNotes(score).map(({ note }) => note);
    const staff = (number: number) => notes.filter((note) => note.staff === number);
    const sound = (note: (typeof notes)[number]): string =>
      `${note.pitch?.step}${note.pitch?.octave} ${note.duration}`;
    // one quarter, then three; the divisions of a quarter are one
    const wanted = ['E5 1', 'C5 1', 'G4 1', 'F5 3', 'C5 3', 'A4 3'];
    expect(staff(1).map(sound)).toEqual(wanted);
    expect(staff(2).map(sound)).toEqual(wanted);
    expect(
      getHarmonies(score).map(({ harmony }) => `${harmony.root.rootStep} ${harmony.kind}`),
    ).toEqual(['C major', 'F major']);
  });

  it('ties what stays and slides what a control moves', () => {
    const text = writeMusicXml(builtIn('e9'), piece('C F'), WAY);
    const count = (mark: string): number => text.split(mark).length - 1;
    // string 4 stays, on both staves; strings 3 and 5 move, drawn on the staff of notes
    expect(count('<tie type="start"/>')).toBe(2);
    expect(count('<slide type="start"')).toBe(2);
    expect(count('<slide type="stop"')).toBe(2);
    expect(text).toContain('>8 A+B</words>');
  });

  it('tells a position once for as long as it stays', () => {
    const stays = [hold(0, 'C'), hold(1, 'C'), hold(2, 'C', { strings: [4, 5, 6] })];
    const text = writeMusicXml(builtIn('e9'), piece('C | C | C'), stays);
    expect(text.split('</words>').length - 1).toBe(1);
  });

  it('names the instrument that readers look for, in a plain treble clef', () => {
    const text = writeMusicXml(builtIn('e9'), piece('C'), WAY.slice(0, 1));
    expect(text).toContain('<score-instrument id="P1-I1">');
    expect(text).not.toContain('clef-octave-change');
  });

  it.skipIf(!present)('is valid with form, words and changes too', () => {
    fc.assert(
      fc.property(anyTune, (tune) => {
        const changing = tune.measures.map((measure, at) =>
          at % 3 === 1
            ? { ...measure, tempos: [0, 2].map((place) => ({ at: place, tempo: 60 + at + place })) }
            : measure,
        );
        const formed = { ...tune, measures: changing };
        const text = writeMusicXml(builtIn('e9'), asWritten(formed), [], formed);
        expect(() => validate(text), text).not.toThrow();
      }),
      { numRuns: runs(20) },
    );
  });

  it.skipIf(!present)(
    'numbers slides from 1 to 6, each begun number ended before it begins again',
    () => {
      const anyMoves = fc.array(
        fc.record({
          strings: fc.uniqueArray(fc.integer({ min: 1, max: 10 }), { minLength: 1, maxLength: 10 }),
          pitch: fc.integer({ min: 50, max: 60 }),
          held: fc.uniqueArray(fc.integer({ min: 1, max: 10 })),
        }),
        { minLength: 2, maxLength: 6 },
      );
      fc.assert(
        fc.property(anyMoves, (moves) => {
          const way = moves.map(({ strings, pitch, held }, index) => {
            const sorted = strings.toSorted((a, b) => a - b);
            return hold(index, 'C', {
              strings: sorted,
              frets: sorted.map(() => 3),
              pitches: sorted.map((string) => pitch + string),
              held,
            });
          });
          const text = writeMusicXml(builtIn('e9'), piece(moves.map(() => 'C').join(' ')), way);
          validate(text);
          const open = new Set<number>();
          for (const [, type, number] of text.matchAll(/<slide type="(\w+)" number="(\d+)"/g)) {
            if (type === 'start') expect(open.has(Number(number))).toBe(false);
            if (type === 'start') open.add(Number(number));
            else expect(open.delete(Number(number))).toBe(true);
            expect(Number(number)).toBeGreaterThanOrEqual(1);
            expect(Number(number)).toBeLessThanOrEqual(6);
          }
          expect(open.size).toBe(0);
        }),
        { numRuns: runs(40) },
      );
    },
  );

  it('has what is picked again as notes of its own on the last beat', () => {
    const [first, second] = WAY;
    if (first === undefined || second === undefined) throw new Error('two chords');
    const text = writeMusicXml(builtIn('e9'), piece('C | F'), [
      { ...first, again: [3, 5] },
      second,
    ]);
    expect(() => validate(text)).not.toThrow();
    const score = parse(text);
    const above = getAllNotes(score).flatMap(({ note }) => (note.staff === 1 ? [note] : []));
    const sound = (note: (typeof above)[number]): string =>
      `${note.pitch?.step}${note.pitch?.octave} ${note.duration}`;
    // three quarters, one quarter, four
    expect(above.map(sound)).toEqual([
      'E5 3',
      'C5 3',
      'G4 3',
      'E5 1',
      'C5 1',
      'G4 1',
      'F5 4',
      'C5 4',
      'A4 4',
    ]);
    // string 4 is tied through all three, on both staves; 3 and 5 are struck, and then slide
    expect(text.split('<tie type="start"/>').length - 1).toBe(4);
    expect(text.split('<slide type="start"').length - 1).toBe(2);
  });

  it.skipIf(!present)(
    'is valid and reads back to the same chords, whatever the progression',
    () => {
      fc.assert(
        fc.property(anyPiece, (progression) => {
          const text = writeMusicXml(builtIn('e9'), progression, []);
          validate(text);
          const back = readMusicXml(text);
          expect(back.ok && chordsOf(back.value.progression)).toEqual(chordsOf(progression));
        }),
        { numRuns: runs(60) },
      );
    },
  );

  it.skipIf(!present)(
    'is valid for the built-in setups with two necks and with six strings',
    () => {
      for (const id of ['double', 'lap6-c6', 'universal12'] as const) {
        const way = [hold(0, 'C', { strings: [1, 2, 3], frets: [0, 0, 0], pitches: [64, 60, 57] })];
        expect(() => validate(writeMusicXml(builtIn(id), piece('C | N.C.'), way))).not.toThrow();
      }
    },
  );
});

const SYMBOLS = [
  'C',
  'F#m7',
  'Bb7',
  'E13',
  'Dsus4',
  'Ab6/9',
  'G7b9',
  'Bm7b5',
  'C/E',
  'Ebmaj7#11',
  'A7sus4',
];
const anySlot = fc
  .tuple(fc.constantFrom(...SYMBOLS, 'N.C.'), fc.constantFrom(1, 1, 1, 2, 3))
  .map(([symbol, share]): Slot => {
    const read = readChord(symbol);
    return { chord: read.ok ? read.value : 'no chord', share };
  });
const anyBar = fc
  .tuple(
    fc.array(anySlot, { minLength: 1, maxLength: 5 }),
    fc.constantFrom(undefined, 'Verse', 'A & <B>'),
  )
  .map(([slots, section]): Bar => ({ slots, ...(section === undefined ? {} : { section }) }));
const anyPiece = fc
  .tuple(
    fc.array(anyBar, { minLength: 1, maxLength: 6 }),
    fc.constantFrom([4, 4], [3, 4], [6, 8], [5, 4]),
  )
  .map(([bars, [beats = 4, unit = 4]]): Progression => ({
    title: 'Lantern & Road',
    metre: { beats, unit },
    bars,
  }));

/** Chords by when they begin and how long they last; a chord that goes on is one. */
function chordsOf(progression: Progression): string[] {
  return stepsOf(progression)
    .map(({ chord, start, length }) => ({
      symbol: chord === 'no chord' ? 'N.C.' : chord.symbol,
      start: start.toFixed(4),
      length: length.toFixed(4),
    }))
    .map(({ symbol, start, length }) => `${start} ${symbol} ${length}`);
}

describe('chords as text', () => {
  it('in ChordPro are read back the same', () => {
    fc.assert(
      fc.property(anyPiece, (progression) => {
        expect(chordsOf(readChordPro(writeChordPro(pieceOf(progression))).progression)).toEqual(
          chordsOf(progression),
        );
      }),
    );
  });

  it('in ABC are read back the same', () => {
    fc.assert(
      fc.property(anyPiece, (progression) => {
        const back = readAbc(writeAbc(pieceOf(progression)));
        expect(back.ok && chordsOf(back.value.progression)).toEqual(chordsOf(progression));
      }),
    );
  });

  it("in ABC carry the melody at the pitch and time at which abcjs's player plays it", () => {
    const [tune] = abcjs.parseOnly(
      writeAbc(pieceOf(piece('key: G\ntempo: 60\nG:F#5 . . D7:C5 | Em:Eb4'))),
    );
    const { tracks } = tune.setUpAudio({ chordsOff: true });
    const notes = (tracks[0] ?? []).filter((event) => event.cmd === 'note');
    // abcjs counts in whole notes
    expect(notes.map(({ pitch, start, duration }) => [pitch, start, duration])).toEqual([
      [78, 0, 0.75],
      [72, 0.75, 0.25],
      [63, 1, 1],
    ]);
  });
});

describe('note values', () => {
  it('add up to the duration', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 64 }),
        fc.integer({ min: 1, max: 48 }),
        (parts, over) => {
          const lasts = valuesOf({ parts, over }).reduce(
            (sum, value) => sum + value.lasts.parts / value.lasts.over,
            0,
          );
          expect(lasts).toBeCloseTo(parts / over, 9);
        },
      ),
    );
  });

  it('are those of notation', () => {
    const text = (parts: number, over: number): string =>
      valuesOf({ parts, over })
        .map(
          ({ type, dots, tuplet }) =>
            `${type}${'.'.repeat(dots)}${tuplet ? ` ${tuplet.actual}:${tuplet.normal}` : ''}`,
        )
        .join(' + ');
    expect(text(4, 1)).toBe('whole');
    expect(text(3, 1)).toBe('half.');
    expect(text(5, 1)).toBe('whole + quarter');
    expect(text(3, 8)).toBe('16th.');
    // a third of a 4/4 bar is a half note of a triplet of them
    expect(text(4, 3)).toBe('half 3:2');
  });
});

describe('a MIDI file', () => {
  const bytes = writeMidiFile({
    title: 'Lantern ♯ Road',
    tempo: 120,
    metre: { beats: 3, unit: 4 },
    markers: [{ at: 0, text: 'C' }],
    notes: [
      { string: 3, midi: 76, at: 0, duration: 2, glides: [{ at: 1, over: 0.1, to: 77 }] },
      { string: 4, midi: 72, at: 0.5, duration: 1.5 },
    ],
  });
  interface Message {
    readonly tt: number;
    readonly ff?: number;
    readonly [byte: number]: number;
  }
  interface Smf extends Iterable<Iterable<Message>> {
    readonly type: number;
    readonly length: number;
    readonly ppqn: number;
  }
  smf(JZZ);
  const { SMF } = JZZ.MIDI as unknown as { SMF: new (data: string) => Smf };
  const file = new SMF(String.fromCharCode(...bytes));
  const tracks: Message[][] = [...file].map((track) => [...track]);

  it('is format 1 with a track for the tempo and one for each string', () => {
    expect([file.type, file.length, file.ppqn]).toEqual([1, 3, 480]);
  });

  it('strikes and damps each string on its own channel at its own time', () => {
    // half a second is a quarter note at 120: 480 ticks
    const notes = tracks.map((track) =>
      track
        .filter((message) => ((message[0] ?? 0) & 0xe0) === 0x80 && message.ff === undefined)
        .map((message) => [
          (message[0] ?? 0) & 0x0f,
          (message[0] ?? 0) >= 0x90,
          message[1],
          message.tt,
        ]),
    );
    expect(notes).toEqual([
      [],
      [
        [1, true, 76, 0],
        [1, false, 76, 1920],
      ],
      [
        [2, true, 72, 480],
        [2, false, 72, 1920],
      ],
    ]);
  });

  it('bends a gliding string by a semitone and leaves the other alone', () => {
    const bends = tracks.map((track) =>
      track
        .filter((message) => ((message[0] ?? 0) & 0xf0) === 0xe0)
        .map((message) => ({
          at: message.tt,
          value: (message[1] ?? 0) + 128 * (message[2] ?? 0) - 8192,
        })),
    );
    const [first, ...rest] = bends[1] ?? [];
    expect(first).toEqual({ at: 0, value: 0 });
    expect(rest[0]?.at).toBeGreaterThanOrEqual(960);
    // the range is 24 semitones each way: a semitone is 8192 / 24
    expect(rest.at(-1)).toEqual({ at: 1056, value: Math.round(8192 / 24) });
    expect(rest.map(({ value }) => value)).toEqual(
      [...rest.map(({ value }) => value)].sort((a, b) => a - b),
    );
    expect(bends[2]).toEqual([{ at: 480, value: 0 }]);
  });

  it('says how far the wheel bends by registered parameter 0', () => {
    const controllers = (tracks[1] ?? [])
      .filter((message) => ((message[0] ?? 0) & 0xf0) === 0xb0)
      .map((message) => [message[1], message[2]]);
    expect(controllers).toEqual([
      [101, 0],
      [100, 0],
      [6, 24],
      [38, 0],
      [101, 127],
      [100, 127],
    ]);
  });

  it('is one MPE zone: registered parameter 6 on the first channel, before all bend ranges', () => {
    // MPE 1.0 (RP-053), 2.1: B0 65 00, B0 64 06, B0 06 <members>; two strings are two members
    const [conductor = []] = tracks;
    const controllers = conductor.filter((message) => ((message[0] ?? 0) & 0xf0) === 0xb0);
    expect(controllers.map((message) => [message.tt, message[0], message[1], message[2]])).toEqual([
      [0, 0xb0, 101, 0],
      [0, 0xb0, 100, 6],
      [0, 0xb0, 6, 2],
      [0, 0xb0, 101, 127],
      [0, 0xb0, 100, 127],
    ]);
  });

  it('keeps fourteen strings off the channel of the drums, and gives it to none but the fifteenth', () => {
    // General MIDI 1: channel 10, which is 9 in the bytes; 2 to 16 are the members of a whole lower zone
    const written = (count: number): number[] => {
      const notes = Array.from({ length: count }, (_, at) => ({
        ...{ string: at + 1, midi: 60 + at, at: 0, duration: 1 },
      }));
      const head = { title: '', tempo: 100, metre: { beats: 4, unit: 4 }, markers: [] };
      const read = new SMF(String.fromCharCode(...writeMidiFile({ ...head, notes })));
      return [...read]
        .flatMap((track) => [...track])
        .filter((message) => message.ff === undefined && ((message[0] ?? 0) & 0xf0) === 0x90)
        .map((message) => (message[0] ?? 0) & 0x0f);
    };
    expect(written(14)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15]);
    expect(written(15).toSorted((a, b) => a - b)).toEqual(
      Array.from({ length: 15 }, (_, at) => at + 1),
    );
  });

  it.each([
    [9, [1, 2, 3, 4, 5, 6, 7, 8, 14]],
    [10, [1, 2, 3, 4, 5, 6, 7, 8, 14, 13]],
    [12, [1, 2, 3, 4, 5, 6, 7, 8, 14, 13, 12, 11]],
  ])('has %i strings and a band as two zones of MPE with the band between them', (count, own) => {
    // MPE 1.0, 2.1: the upper zone counts down from channel 16, which is 15 in the bytes; channels of no zone
    // are plain ones, and 10 (9 in the bytes) is that of the drums in General MIDI 1
    const notes = Array.from({ length: count }, (_, at) => ({
      ...{ string: at + 1, midi: 60 + at, at: 0, duration: 1 },
    }));
    const when = { at: 0, lasts: 1, level: 1 };
    const band: BandNote[] = [
      { part: 'bass', midi: 40, ...when },
      { part: 'chords', midi: 55, ...when },
      { part: 'drums', drum: 'kick', ...when },
    ];
    const head = { title: '', tempo: 100, metre: { beats: 4, unit: 4 }, markers: [] };
    const read = new SMF(String.fromCharCode(...writeMidiFile({ ...head, notes, band })));
    const each = [...read].map((track) => [...track].filter(({ ff }) => ff === undefined));
    const zones = (each[0] ?? []).map((message) => [message[0], message[1], message[2]]);
    const configured = (status: number, members: number) => [
      [status, 101, 0],
      [status, 100, 6],
      [status, 6, members],
      [status, 101, 127],
      [status, 100, 127],
    ];
    expect(zones).toEqual([...configured(0xb0, 8), ...configured(0xbf, count - 8)]);
    const struck = each.flatMap((track) =>
      track.flatMap((message) => ((message[0] ?? 0) >> 4 === 9 ? [(message[0] ?? 0) & 15] : [])),
    );
    expect(struck.slice(0, count)).toEqual(own);
    const others = struck.slice(count);
    expect(others).toContain(9);
    for (const channel of others) {
      expect(channel).toBeGreaterThan(8);
      expect(channel).toBeLessThan(15 - (count - 8));
    }
    expect(new Set(others).size).toBe(count < 12 ? 3 : 2);
  });

  it('is said to be none of MPE where strings and band leave no channel for a zone', () => {
    const notes = (count: number) =>
      Array.from({ length: count }, (_, at) => ({
        ...{ string: at + 1, midi: 60 + at, at: 0, duration: 1 },
      }));
    const when = { at: 0, lasts: 1, level: 1 };
    const band: BandNote[] = [
      { part: 'bass', midi: 40, ...when },
      { part: 'drums', drum: 'kick', ...when },
    ];
    // 16 channels: two that speak for zones, 13 strings, the bass and the drums are 17
    expect(toldOfMidi({ notes: notes(13), band })).toContain('not MPE');
    expect(toldOfMidi({ notes: notes(12), band })).toBeUndefined();
    for (const count of [1, 13, 14, 15])
      expect(toldOfMidi({ notes: notes(count) }), `${count} alone`).toBeUndefined();
  });

  it('is read back as a tune that goes on top of the chords', () => {
    const tune = readMidiTune(bytes);
    if (!tune.ok) throw new Error(faultText(tune.error));
    const sung = withTune(piece('C . F | G'), tune.value);
    // three quarters a bar: string 3 sounds under all of it
    expect(stepsOf(sung).map(({ melody }) => melody && 'midi' in melody && melody.midi)).toEqual([
      76, 76, 76,
    ]);
    expect(sung.metre).toEqual({ beats: 3, unit: 4 });
  });

  it('that is cut off, or none, is refused with a sentence', () => {
    for (const wrong of [
      bytes.slice(0, 10),
      bytes.slice(0, -5),
      new Uint8Array(0),
      new Uint8Array([1, 2, 3]),
      new TextEncoder().encode('MThd is not enough'),
    ])
      expect(readMidiTune(wrong)).toMatchObject({ ok: false });
  });
});
