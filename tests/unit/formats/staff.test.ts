/** Staves in ABC notation, read back by the player of `abcjs`: both parts sound what they are to sound. */
import abcjs from 'abcjs';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { inOrder } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { isPitch } from '$lib/arrange/progression';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { arrangeTune } from '$lib/arrange/tune';
import { tuneMeasures } from '$lib/arrange/tuneMeasures';
import { noWishes } from '$lib/arrange/wishes';
import { readAbc } from '$lib/formats/read/abc';
import { staffLines } from '$lib/formats/staffLines';
import { filledBy } from '$lib/formats/staffRoom';
import { staffSystems } from '$lib/formats/staffSystems';
import { tuneAbc } from '$lib/formats/write/tuneAbc';
import { tabColumns } from '$lib/formats/tablature';
import { tuneTabPlayed } from '$lib/formats/tuneTab';
import { pathSteps } from '$lib/formats/svgPath';
import { struckChords } from '$lib/playing/struckChords';
import { OWN_TUNES, tuneOf } from '../arrange/ownTunes';
import { TRADITIONAL } from '../arrange/traditional';

const E9 = builtIn('e9');

interface Played {
  readonly tracks: readonly (readonly {
    cmd: string;
    pitch: number;
    start: number;
    duration: number;
  }[])[];
}

/** The notes of each staff as the player of `abcjs` has them. */
const playedOf = (abc: string) => {
  const [tune] = abcjs.parseOnly(abc);
  const player = tune as unknown as { setUpAudio: (o: object) => Played };
  return player
    .setUpAudio({ chordsOff: true })
    .tracks.map((track) => track.filter(({ cmd }) => cmd === 'note'));
};

describe.each(Object.entries(OWN_TUNES))('%s', (_, piece) => {
  const textures = { texture: 'sixths', harmony: 'changes', measures: [] } as const;
  const steps = arrangeTune(E9, piece, textures, noWishes(false), 1).ways[0]?.steps ?? [];
  const measures = tuneMeasures(piece, steps);
  const plan = { piece, measures, signs: 'letters' as const, widthOf: () => 20 };

  it('sounds the tune in the one staff and the steel in the other', () => {
    const [melody = [], steel = []] = playedOf(tuneAbc(piece, steps)).map((track) =>
      track.map(({ pitch }) => pitch),
    );
    expect(melody).toEqual(
      inOrder(piece).notes.map(({ pitch }) => (isPitch(pitch) ? pitch.midi : NaN)),
    );
    const sounding = steps.map(({ hold }) => [...hold.pitches].sort((a, b) => a - b));
    expect(steel).toEqual(sounding.flat());
  });

  it('has every note in a system, and says where in its text it stands', () => {
    const systems = staffSystems({ ...plan, width: 700 });
    expect(systems.flatMap((each) => each.steps.map(({ index }) => index))).toEqual(
      steps.map((__, index) => index),
    );
    expect(systems.flatMap((each) => each.measures)).toEqual(measures.map((__, order) => order));
    for (const { abc, steps: own } of systems)
      for (const { char } of own) expect(abc.slice(char, char + 1)).toMatch(/[[A-Ga-g^_=(]/u);
  });
});

describe('a note that is held over a bar line', () => {
  const piece = tuneOf({ key: 'C', metre: [4, 4], tempo: 100 }, [
    ['C', 'E4:1 G4:3~'],
    ['C', 'G4:2 E4:2'],
  ]);
  const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
  const steps = arrangeTune(E9, piece, line, noWishes(false), 1).ways[0]?.steps ?? [];

  it('is one note in the steel part too, as long as it is sung', () => {
    const [, steel = []] = playedOf(tuneAbc(piece, steps));
    // in whole notes, as abcjs counts: a quarter, three and two quarters tied, a half
    expect(steel.map(({ start }) => start * 4)).toEqual([0, 1, 6]);
    expect(tuneAbc(piece, steps).match(/G3- \|/gu)).toHaveLength(2);
  });
});

describe('chords without a tune', () => {
  const { progression } = readProgression('[A] C | Am7 | Dm7 G7 | C');
  const { ways } = arrange(E9, progression, noWishes(false), 1);
  const { piece, steps, struck } = struckChords(E9, progression, ways[0]?.steps ?? [], undefined);
  const plan = { piece, measures: tuneMeasures(piece, struck), signs: 'letters' as const };

  it('have one staff, with their signs above it', () => {
    const [system] = staffSystems({ ...plan, width: 2000, widthOf: () => 20 });
    expect(system?.abc).not.toContain('V:');
    expect(system?.abc).toContain('[P:A]("^C"');
    expect(system?.abc.match(/"\^[^"]+"/gu)).toEqual(
      ['C', 'Am7', 'Dm7', 'G7', 'C'].map((sign) => `"^${sign}"`),
    );
    const [steel = [], ...more] = playedOf(tuneAbc(piece, struck));
    expect(more).toEqual([]);
    expect(steel.map(({ pitch }) => pitch)).toEqual(
      steps.flatMap(({ hold }) => [...hold.pitches].sort((a, b) => a - b)),
    );
  });

  it('that are struck late are named where they begin', () => {
    const late = struckChords(E9, progression, ways[0]?.steps ?? [], { strike: 'late', parts: [] });
    const measures = tuneMeasures(late.piece, late.struck);
    const [system] = staffSystems({ ...plan, measures, width: 2000, widthOf: () => 20 });
    expect(system?.abc).toMatch(/"\^C"z/u);
  });
});

describe('a line of staves', () => {
  const piece = tuneOf({ key: 'C', metre: [4, 4], tempo: 100 }, [
    ...Array.from({ length: 8 }, () => ['C', 'E4:1 G4:1 E4:1 C4:1'] as const),
  ]);
  const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
  const steps = arrangeTune(E9, piece, line, noWishes(false), 1).ways[0]?.steps ?? [];
  const measures = tuneMeasures(piece, steps);
  const WIDTH = 1400;
  /** Of one note only there is much to write. */
  const inLines = (wide: number) =>
    staffSystems({
      ...{ piece, measures, signs: 'letters' as const, width: WIDTH },
      widthOf: (index) => (index === 1 ? wide : 20),
    });

  it('has so few measures that no number of the tablature runs into the next', () => {
    const [first] = inLines(120);
    const notes = (first?.measures.length ?? 0) * 4;
    // quarters share a line alike, and it holds a clef and bar lines too
    expect(WIDTH / notes).toBeGreaterThan((2 / 3) * 120);
    expect(inLines(20)[0]?.measures.length).toBeGreaterThan(first?.measures.length ?? Infinity);
  });
});

describe('measures on lines', () => {
  const quarters = 'E4:1 G4:1 E4:1 C4:1';
  const four = ['C', quarters] as const;
  /** Measures of each line, where so many of four quarters have room on one. */
  const perLine = (piece: Piece, most: number) => {
    const rooms = piece.measures.map(({ lasts = 4 }) => roomFor(lasts));
    const width = filledBy(Array.from({ length: most }, () => roomFor(4)));
    return staffLines(piece, tuneMeasures(piece, []), rooms, width).map(
      ({ orders }) => orders.length,
    );
  };
  const roomFor = (quarters: number) => ({ wants: 40 * quarters, shared: 40 * quarters, times: 1 });
  const about = { key: 'C', metre: [4, 4], tempo: 100 } as const;

  it('stand by fours where that fills no more lines, a pickup along with the first', () => {
    const sixteen = Array.from({ length: 16 }, () => four);
    expect(perLine(tuneOf(about, sixteen), 5)).toEqual([4, 4, 4, 4]);
    expect(perLine(tuneOf(about, [['', 'C4:1', 1], ...sixteen]), 5)).toEqual([5, 4, 4, 4]);
  });

  it('begin a line with a section, and leave no last one alone', () => {
    const nine = Array.from({ length: 9 }, () => four);
    expect(perLine(tuneOf(about, nine), 4)).not.toContain(1);
    const plain = tuneOf(about, nine.slice(0, 6));
    const parted = {
      ...plain,
      measures: plain.measures.map((each, at) => (at === 3 ? { ...each, section: 'B' } : each)),
    };
    expect(perLine(parted, 4)).toEqual([3, 3]);
  });

  it('lead what is tied over the end of a line into the next', () => {
    const tied = [
      ['C', 'E4:2 G4:2~'],
      ['', 'G4:2 E4:2'],
    ] as const;
    const piece = tuneOf(about, tied);
    const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
    const steps = arrangeTune(E9, piece, line, noWishes(false), 1).ways[0]?.steps ?? [];
    const plan = { piece, measures: tuneMeasures(piece, steps), signs: 'letters' as const };
    const [, second] = staffSystems({ ...plan, width: 250, widthOf: () => 20 });
    // in both staves: what a slur that nothing begins ends at is held from the line before
    expect(second?.abc.match(/G2\)/gu)).toHaveLength(2);
  });
});

describe('the tablature under a staff', () => {
  it('says of every string how it is reached, also of one that is held over a bar line', () => {
    const read = readAbc(TRADITIONAL['Amazing Grace'] ?? '');
    if (!read.ok || read.value.piece === undefined) throw new Error('it cannot be read');
    const { piece } = read.value;
    const melody = { texture: 'chord-melody', harmony: 'changes', measures: [] } as const;
    const steps = arrangeTune(E9, piece, melody, noWishes(false), 1).ways[0]?.steps ?? [];
    const tab = tuneTabPlayed(E9, piece, steps);
    const columns = tabColumns(tab).filter(({ cells }) => cells.some((cell) => cell !== undefined));
    const LEADS = {
      ...{ picked: 'picked', pull: 'moved by a control', rings: 'rings on' },
      slide: 'slides',
    };
    steps.forEach(({ hold, strings }, at) => {
      for (const { string, reached } of strings)
        if (hold.strings.includes(string))
          expect(columns[at]?.cells[string - 1]?.lead).toContain(LEADS[reached]);
    });
    // the case is there: a pull out of a chord that was held over the bar line
    const rung = tab.steps.some(
      ({ reached }, at) =>
        tab.steps[at - 1]?.voicing === undefined && [...(reached?.values() ?? [])].includes('pull'),
    );
    expect(rung).toBe(true);
  });
});

describe('outlines', () => {
  it('are lines and curves where SVG 1.1, 8.3, has them', () => {
    const at = (x: number, y: number) => [x, y] as const;
    expect(pathSteps('M1 2l3 4h-1V0z', at)).toEqual([
      ['M', 1, 2],
      ['L', 4, 6],
      ['L', 3, 6],
      ['L', 3, 0],
      ['Z'],
    ]);
    // a smooth curve goes on along the handle before it, mirrored
    expect(pathSteps('M0 0c0 1 1 2 2 2s2-1 2-2', at)).toEqual([
      ['M', 0, 0],
      ['C', 0, 1, 1, 2, 2, 2],
      ['C', 3, 2, 4, 1, 4, 0],
    ]);
  });
});
