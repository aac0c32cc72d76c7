/** Random setups, and charts of them in the layouts and habits of those who type them. */
import { parsePitch, pitchText, nameText, chromaOf, type Pitch } from '$lib/theory/pitch';
import { STATIONS, type Pull, type Station } from '$lib/setup/setup';

export interface MeantControl {
  readonly station: Station;
  readonly pulls: readonly Pull[];
}

/** What a chart is to be read as. */
export interface Meant {
  readonly necks: readonly (readonly MeantString[])[];
  readonly controls: readonly MeantControl[];
}

export interface MeantString {
  readonly open: Pitch;
  readonly gauge?: number;
  readonly wound?: true;
}

type Random = () => number;
export const pick = <T>(random: Random, list: readonly T[]): T => {
  const item = list[Math.floor(random() * list.length)];
  if (item === undefined) throw new Error('an empty list');
  return item;
};
const upTo = (random: Random, most: number): number => Math.floor(random() * (most + 1));

const NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];
const noteAt = (midi: number): Pitch => {
  const pitch = parsePitch(`${NAMES[chromaOf(midi)] ?? ''}${Math.floor(midi / 12) - 1}`);
  if (pitch === undefined) throw new Error(`${midi}`);
  return pitch;
};

/** Tunings of the trade (common practice, from memory), of which players write no octaves. */
const USUAL = [
  'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2',
  'G4 E4 C4 A3 G3 E3 C3 A2 F2 C2',
  'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 B2 G#2 E2 B1',
  'E4 C4 A3 G3 E3 C3',
  'E4 C#4 A3 F#3 E3 C#3',
  'G4 E4 C4 A3 G3 E3 C3 A2',
  'D4 B3 G3 D3 B2 G2',
];

/** Strings from the highest down, each within an octave of the one before. */
function falling(random: Random): Pitch[] {
  const count = 5 + upTo(random, 5);
  const pitches: Pitch[] = [];
  let midi = (count > 6 ? 67 : 64) - upTo(random, 6);
  while (pitches.length < count && midi > 30) {
    pitches.push(noteAt(midi));
    midi -= 2 + upTo(random, 4);
  }
  return pitches;
}

const PULLABLE: readonly Station[] = STATIONS.filter(
  (each) => /^P\d$|^[LR]K.$/.test(each) && each !== 'P9',
);

/** Pulls that notes can say as well as numbers: five semitones at most. */
function randomPull(random: Random, neck: number, string: number): Pull {
  const size = 1 + upTo(random, random() < 0.2 ? 4 : 2);
  const sign = random() < 0.5 ? 1 : -1;
  const semitones = sign * size;
  return size > 1 && random() < 0.25
    ? { neck, string, semitones, half: sign * (1 + upTo(random, size - 2)) }
    : { neck, string, semitones };
}

/** A random setup of one neck or two. */
export function randomMeant(random: Random): { meant: Meant; isUsual: boolean } {
  const isUsual = random() < 0.5;
  const count = random() < 0.15 ? 2 : 1;
  const tunings = Array.from({ length: count }, () =>
    isUsual
      ? pick(random, USUAL)
          .split(' ')
          .map((each) => parsePitch(each) as Pitch)
      : falling(random),
  );
  // the same strings twice would be one neck in two tables
  if (count === 2 && tunings[0]?.map(nameText).join() === tunings[1]?.map(nameText).join())
    tunings.pop();
  const withGauges = random() < 0.3;
  const necks = tunings.map((pitches) =>
    pitches.map((open): MeantString => {
      if (!withGauges) return { open };
      // like tension: twice the wire an octave lower
      const gauge = Math.round(11 * 2 ** ((68 - open.midi) / 12)) / 1000;
      return gauge >= 0.022 ? { open, gauge, wound: true } : { open, gauge };
    }),
  );
  const stations = PULLABLE.filter(() => random() < 0.45);
  while (stations.length < 2) stations.splice(0, stations.length, 'P1', 'LKL');
  const controls = stations
    .map((station): MeantControl => ({
      station,
      pulls: necks.flatMap((strings, neck) =>
        strings.flatMap((_, string) =>
          random() < 0.22 ? [randomPull(random, neck + 1, string + 1)] : [],
        ),
      ),
    }))
    .filter(({ pulls }) => pulls.length > 0);
  if (controls.length < 2) return randomMeant(random);
  return { meant: { necks, controls }, isUsual };
}

/** How a chart is written. */
export interface Habit {
  readonly layout: (typeof LAYOUTS)[number];
  readonly pulls: (typeof PULLS)[number];
  readonly heads: (typeof HEADS)[number];
  readonly octaves: boolean;
  readonly numbers: boolean;
  readonly lastFirst: boolean;
  readonly german: boolean;
  readonly blank: string;
  readonly title: boolean;
}
export const LAYOUTS = [
  'columns',
  'markdown',
  'csv',
  'semicolons',
  'tabs',
  'turned',
  'turned csv',
  'line a string',
  'line a control',
  'sentences',
] as const;
export const PULLS = [
  'numbers',
  'notes',
  'from to',
  'arrows',
  'tones',
  'letters',
  'marks',
] as const;
export const HEADS = ['short', 'spelled', 'german', 'letters'] as const;

const PLACES = { L: 'left', V: 'up', R: 'right' } as const;
const GERMAN_PLACES = { L: 'links', V: 'hoch', R: 'rechts' } as const;
const LETTERS: Readonly<Record<string, string>> = {
  P1: 'A',
  P2: 'B',
  P3: 'C',
  LKL: 'F',
  LKR: 'E',
  RKL: 'G',
  RKR: 'D',
};

function headText(
  station: Station,
  heads: Habit['heads'],
  has: (station: Station) => boolean,
): string {
  const pedal = /^P(\d+)$/.exec(station)?.[1];
  const [, side, way] = /^([LR])K([LVR])$/.exec(station) ?? [];
  if (heads === 'letters') {
    const letter = LETTERS[station];
    // the usual place of a letter is certain only where the letter is there
    if (letter !== undefined && has(station)) return letter;
  }
  if (heads === 'short' || heads === 'letters' || (pedal === undefined && side === undefined))
    return station;
  if (heads === 'spelled')
    return pedal !== undefined
      ? `Pedal ${pedal}`
      : `${side === 'L' ? 'Left' : 'Right'} knee ${PLACES[way as keyof typeof PLACES]}`;
  return pedal !== undefined
    ? `Pedal ${pedal}`
    : `${side === 'L' ? 'linkes' : 'rechtes'} Knie ${GERMAN_PLACES[way as keyof typeof GERMAN_PLACES]}`;
}

const GERMAN: Readonly<Record<string, string>> = {
  C: 'C',
  'C#': 'Cis',
  D: 'D',
  'D#': 'Dis',
  Eb: 'Es',
  E: 'E',
  F: 'F',
  'F#': 'Fis',
  Gb: 'Ges',
  G: 'G',
  'G#': 'Gis',
  Ab: 'As',
  A: 'A',
  'A#': 'Ais',
  Bb: 'B',
  B: 'H',
};
const noteText = (pitch: Pitch, german: boolean): string =>
  german ? (GERMAN[nameText(pitch)] ?? nameText(pitch)) : nameText(pitch);
const openText = ({ open }: MeantString, { octaves, german }: Habit): string =>
  german
    ? noteText(open, true) + (octaves ? String(open.octave) : '')
    : octaves
      ? pitchText(open)
      : nameText(open);

const amount = (semitones: number): string => (semitones > 0 ? `+${semitones}` : String(semitones));
const inTones = (semitones: number): string => {
  const size = Math.abs(semitones);
  const whole = Math.floor(size / 2);
  return `${semitones < 0 ? '-' : '+'}${whole > 0 ? whole : ''}${size % 2 === 1 ? '½' : ''}`;
};

export function pullText({ semitones, half }: Pull, { open }: MeantString, habit: Habit): string {
  const note = (by: number): string => noteText(noteAt(open.midi + by), habit.german);
  const stops = half === undefined ? [semitones] : [half, semitones];
  switch (habit.pulls) {
    case 'notes':
      return stops.map(note).join('/');
    case 'from to':
      return `${noteText(open, habit.german)}>${stops.map(note).join('/')}`;
    case 'arrows':
      return stops.map((by) => `${by > 0 ? '↑' : '↓'}${Math.abs(by)}`).join('/');
    case 'letters':
      return stops.map((by) => `${by > 0 ? 'R' : 'L'}${Math.abs(by)}`).join('/');
    case 'tones':
      return stops.map(inTones).join('/');
    case 'marks':
      return stops.map((by) => (by > 0 ? '+' : '-').repeat(Math.abs(by))).join('/');
    case 'numbers':
      return stops.map(amount).join('/');
  }
}

const inColumns = (rows: readonly (readonly string[])[], random: Random): string => {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0)),
  );
  const gap = ' '.repeat(2 + upTo(random, 2));
  const right = random() < 0.3;
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          right ? cell.padStart(widths[column] ?? 0) : cell.padEnd(widths[column] ?? 0),
        )
        .join(gap)
        .trimEnd(),
    )
    .join('\n');
};
const quoted = (cell: string, sign: string): string =>
  cell.includes(sign) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell;
const turned = (rows: readonly (readonly string[])[]): string[][] =>
  (rows[0] ?? []).map((_, column) => rows.map((row) => row[column] ?? ''));

const words = (by: number): string => {
  const size = Math.abs(by);
  return size === 1 ? 'a half tone' : size === 2 ? 'a whole tone' : `${size} semitones`;
};

/** One neck of a setup as a chart. */
function neckText(meant: Meant, neck: number, habit: Habit, random: Random): string {
  const strings = meant.necks[neck - 1] ?? [];
  const controls = meant.controls.filter(({ pulls }) => pulls.some((pull) => pull.neck === neck));
  const has = (station: Station): boolean =>
    meant.controls.some((each) => each.station === station);
  const head = ({ station }: MeantControl): string => headText(station, habit.heads, has);
  const pullAt = (control: MeantControl, string: number): Pull | undefined =>
    control.pulls.find((pull) => pull.neck === neck && pull.string === string);
  const order = strings.map((string, index) => ({ string, number: index + 1 }));
  if (habit.lastFirst) order.reverse();
  const withGauges = strings.some(({ gauge }) => gauge !== undefined);
  const gauge = ({ gauge: wire, wound }: MeantString): string =>
    wire === undefined ? '' : wire.toFixed(3).replace(/^0/, '') + (wound ? 'w' : '');
  const cell = (control: MeantControl, string: MeantString, number: number): string => {
    const pull = pullAt(control, number);
    return pull === undefined ? habit.blank : pullText(pull, string, habit);
  };
  if (habit.layout === 'line a string')
    return order
      .map(({ string, number }) => {
        const items = controls.flatMap((control) => {
          const pull = pullAt(control, number);
          return pull === undefined ? [] : [`${head(control)} ${pullText(pull, string, habit)}`];
        });
        return `${number} ${openText(string, habit)}${items.length === 0 ? '' : `: ${items.join(', ')}`}`;
      })
      .join('\n');
  if (habit.layout === 'line a control' || habit.layout === 'sentences') {
    const tuning = `${habit.german ? 'Stimmung' : 'Tuning'}: ${strings.map((string) => openText(string, habit)).join(' ')}`;
    const lines = controls.map((control) => {
      const pulls = control.pulls.filter((pull) => pull.neck === neck);
      if (habit.layout === 'line a control')
        return `${head(control)}: ${pulls.map((pull) => `${pull.string} ${pullText(pull, strings[pull.string - 1] as MeantString, habit)}`).join(', ')}`;
      return `${head(control)} ${pulls
        .map(
          (pull) =>
            `${pull.semitones > 0 ? 'raises' : 'lowers'} string ${pull.string} ${pull.half === undefined ? '' : `${words(pull.half)}, then `}${words(pull.semitones)}`,
        )
        .join(' and ')}.`;
    });
    return [tuning, ...lines].join('\n');
  }
  const labels = [
    ...(habit.numbers
      ? [habit.german ? 'Saite' : pick(random, ['Str', 'String', '#', 'No.'])]
      : []),
    habit.german ? 'Ton' : pick(random, ['Note', 'Open', 'Tuning']),
    ...(withGauges ? [habit.german ? 'Stärke' : 'Gauge'] : []),
  ];
  const rows = [
    [...labels, ...controls.map(head)],
    ...order.map(({ string, number }) => [
      ...(habit.numbers ? [String(number)] : []),
      openText(string, habit),
      ...(withGauges ? [gauge(string)] : []),
      ...controls.map((control) => cell(control, string, number)),
    ]),
  ];
  switch (habit.layout) {
    case 'columns':
      return inColumns(rows, random);
    case 'turned':
      return inColumns(turned(rows), random);
    case 'markdown': {
      const [first = [], ...more] = rows.map((row) => `| ${row.join(' | ')} |`);
      return [first, `|${rows[0]?.map(() => '---').join('|') ?? ''}|`, ...more].join('\n');
    }
    case 'tabs':
      return rows.map((row) => row.join('\t')).join('\n');
    case 'semicolons':
      return rows.map((row) => row.map((each) => quoted(each, ';')).join(';')).join('\r\n');
    case 'csv':
      return rows.map((row) => row.map((each) => quoted(each, ',')).join(',')).join('\n');
    case 'turned csv':
      return turned(rows)
        .map((row) => row.map((each) => quoted(each, ',')).join(','))
        .join('\n');
  }
}

/** A random habit that can say a setup; what a layout cannot say is left to others. */
export function randomHabit(random: Random, meant: Meant, isUsual: boolean): Habit {
  const layout = pick(random, meant.necks.length > 1 ? LAYOUTS.slice(0, 7) : LAYOUTS);
  const inLines =
    layout === 'line a string' || layout === 'line a control' || layout === 'sentences';
  const hasHalf = meant.controls.some(({ pulls }) => pulls.some(({ half }) => half !== undefined));
  const isSmall = meant.controls.every(({ pulls }) =>
    pulls.every(({ semitones }) => Math.abs(semitones) <= 2),
  );
  // of tones only one and halves are plain
  const inTones =
    meant.controls.every(({ pulls }) => pulls.every(({ semitones }) => Math.abs(semitones) <= 3)) &&
    // ones and twos alone would be semitones to every reader
    meant.controls.some(({ pulls }) => pulls.some(({ semitones }) => semitones % 2 !== 0));
  const fits = PULLS.filter(
    (each) =>
      (each !== 'marks' || (isSmall && !hasHalf && !inLines)) &&
      (each !== 'tones' || (inTones && !inLines)),
  );
  const pulls = pick(random, fits);
  const heads = pick(random, HEADS);
  const german = heads === 'german';
  // octaves follow from order and from known tunings where the strings stand in their order
  const octaves = random() < (isUsual ? 0.3 : 0.6);
  const numbers = random() < 0.7;
  const lastFirst =
    !(layout === 'line a control' || layout === 'sentences') &&
    random() < 0.25 &&
    (numbers || layout === 'line a string' || octaves || isUsual);
  const blanks =
    pulls === 'marks' ? [''] : layout.startsWith('columns') ? ['', '.', '-'] : ['', '', '.', '-'];
  return {
    layout,
    pulls,
    heads,
    octaves,
    numbers,
    lastFirst,
    german,
    blank: pick(random, blanks),
    title: random() < 0.4,
  };
}

/** A setup as a chart in a habit. */
export function chartText(meant: Meant, habit: Habit, random: Random): string {
  const necks = meant.necks.map((_, index) => neckText(meant, index + 1, habit, random));
  const title = habit.title ? 'What stands in my workshop\n\n' : '';
  const between = random() < 0.5 ? '\n\n' : '\n\nThe other neck\n\n';
  return title + necks.join(between) + '\n';
}
