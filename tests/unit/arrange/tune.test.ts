/** Tunes in all textures, read back note by note from the MIDI that is written of them. */
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { inOrder } from '$lib/arrange/inOrder';
import { isPitch } from '$lib/arrange/progression';
import type { Piece } from '$lib/arrange/piece';
import { TEXTURES, type Texture, type Textures } from '$lib/arrange/texture';
import { arrangeTune, type TuneWay } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { writtenTune } from '$lib/playing/tuneNotes';
import { writeMidiFile } from '$lib/formats/write/midi';
import { chromaOf } from '$lib/theory/pitch';
import { has } from '$lib/theory/pcset';
import { OWN_TUNES, tuneOf } from './ownTunes';

const E9 = builtIn('e9');
const all = (texture: Texture, harmony: Textures['harmony'] = 'changes'): Textures => ({
  texture,
  harmony,
  measures: [],
});

/** What sounds at a time, by the events of a MIDI file: keys that are down, bent as their wheel says. */
function soundingAt(way: TuneWay, tempo: number): (seconds: number) => number[] {
  const metre = { beats: 4, unit: 4 };
  const bytes = writeMidiFile({
    ...{ title: 'read back', tempo, metre, markers: [] },
    notes: writtenTune(way.steps),
  });
  const { tracks, header } = parseMidi(bytes);
  const perSecond = ((header.ticksPerBeat ?? 480) * tempo) / 60;
  return (seconds) =>
    tracks
      .flatMap((events) => {
        let tick = 0;
        let key: number | undefined;
        let bend = 0;
        for (const event of events) {
          tick += event.deltaTime;
          if (tick / perSecond > seconds) break;
          if (event.type === 'pitchBend') bend = event.value;
          if (event.type === 'noteOn' && event.velocity > 0) key = event.noteNumber;
          if (event.type === 'noteOff' && event.noteNumber === key) key = undefined;
        }
        // the wheel reaches 24 semitones each way, as the file says of itself
        return key === undefined ? [] : [Math.round((key + (bend * 24) / 8192) * 10) / 10];
      })
      .sort((a, b) => a - b);
}

const bestOf = (piece: Piece, textures: Textures): TuneWay => {
  const { ways, lacks } = arrangeTune(E9, piece, textures, noWishes(false), 1);
  expect(lacks.filter((each) => each.lacks === 'all')).toEqual([]);
  return ways[0] as TuneWay;
};

/** The middle of every note, with its pitch and the pitch classes of the chord under it. */
const middles = (piece: Piece) => {
  const { notes, moments } = inOrder(piece);
  return notes.map(({ seconds, lastsSeconds, pitch }) => {
    const moment = moments.findLast((each) => each.seconds <= seconds + 1e-6);
    return {
      at: seconds + lastsSeconds / 2,
      midi: isPitch(pitch) ? pitch.midi : NaN,
      chord: moment === undefined || moment.chord === 'no chord' ? undefined : moment.chord,
    };
  });
};

describe.each(Object.entries(OWN_TUNES))('%s', (_, piece) => {
  const tempo = piece.tempo ?? 100;

  it('sounds note for note as a line, and is silent where it rests', () => {
    const at = soundingAt(bestOf(piece, all('line')), tempo);
    for (const note of middles(piece)) expect(at(note.at)).toEqual([note.midi]);
    const { notes, seconds } = inOrder(piece);
    notes.forEach((note, index) => {
      const end = note.seconds + note.lastsSeconds;
      const next = notes[index + 1]?.seconds ?? seconds;
      if (next - end > 0.1 && index + 1 < notes.length) expect(at((end + next) / 2)).toEqual([]);
    });
  });

  it.each([
    ['thirds', [3, 4]],
    ['sixths', [8, 9]],
    ['tenths', [15, 16]],
  ] as const)('has one voice more below it in %s, or is told to be alone', (texture, sizes) => {
    const { ways, lacks } = arrangeTune(E9, piece, all(texture), noWishes(false), 1);
    const at = soundingAt(ways[0] as TuneWay, tempo);
    const alone = lacks.map(({ onset }) => onset.seconds);
    const begins = inOrder(piece).notes.map(({ seconds }) => seconds);
    middles(piece).forEach((note, index) => {
      const sounds = at(note.at);
      expect(sounds.at(-1)).toBe(note.midi);
      if (alone.includes(begins[index] as number)) expect(sounds).toHaveLength(1);
      else expect(sizes).toContain(note.midi - (sounds[0] ?? 0));
    });
  });

  it.each(['every', 'beats', 'changes'] as const)(
    'is on top of the chord of the moment, harmony at %s',
    (harmony) => {
      const way = bestOf(piece, all('chord-melody', harmony));
      const at = soundingAt(way, tempo);
      for (const note of middles(piece)) {
        const sounds = at(note.at);
        expect(sounds.at(-1)).toBe(note.midi);
        for (const pitch of sounds.slice(0, -1))
          expect(note.chord !== undefined && has(note.chord.pitchClasses, chromaOf(pitch))).toBe(
            true,
          );
      }
    },
  );

  it.each(TEXTURES)('costs the sum of what its steps cost, least first: %s', (texture) => {
    const { ways } = arrangeTune(E9, piece, all(texture), noWishes(false), 5);
    const totals = ways.map(({ total }) => total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
    for (const { total, steps } of ways) {
      const sum = steps.reduce((so, { effort, move }) => so + effort.total + move.total, 0);
      expect(total).toBeCloseTo(sum, 6);
    }
  });
});

describe('what a good player does', () => {
  it('takes the next note by the pedal: common practice', () => {
    // B and C♯ on string 5, and E to F♯ on string 4, are what A and C are there for
    const piece = tuneOf({ key: 'E', metre: [4, 4], tempo: 100 }, [['E', 'B3:1 C#4:1 B3:2']]);
    const { steps } = bestOf(piece, all('line'));
    expect(steps.map(({ strings }) => strings[0]?.reached)).toEqual(['picked', 'pull', 'pull']);
  });

  it('strikes a note that comes again, and one after a rest', () => {
    const piece = tuneOf({ key: 'E', metre: [4, 4], tempo: 100 }, [['E', 'B3:1 B3:1 -:1 C#4:1']]);
    const { steps } = bestOf(piece, all('line'));
    expect(steps.map(({ strings }) => strings[0]?.reached)).toEqual(['picked', 'picked', 'picked']);
  });

  it('lets the chord ring under the notes that follow it', () => {
    const piece = OWN_TUNES['a walk in C'] as Piece;
    const [first, second] = bestOf(piece, all('chord-melody')).steps;
    expect(first?.strings.length).toBeGreaterThanOrEqual(3);
    expect(second?.strings.filter(({ reached }) => reached === 'rings').length).toBeGreaterThan(0);
  });
});

it('takes another texture for the measures that ask for it', () => {
  const piece = OWN_TUNES['a walk in C'] as Piece;
  const { steps } = bestOf(piece, {
    ...all('line'),
    measures: [{ from: 2, to: 2, texture: 'thirds' }],
  });
  const many = (measure: number): number[] =>
    steps.filter(({ onset }) => onset.measure === measure).map(({ strings }) => strings.length);
  expect(many(0)).toEqual([1, 1, 1, 1]);
  expect(many(1)).toEqual([2, 2, 2]);
  expect(many(2)).toEqual([1, 1, 1, 1, 1]);
});
