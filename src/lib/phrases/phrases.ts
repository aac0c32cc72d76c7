/**
 * Phrases of our own making, for no instrument in particular: a tune in degrees of a key, its chords, and what is
 * played of both. None is taken from a piece or a recording; each says how it is made.
 *
 * A note is a degree above the key's tonic, counted as in the major scale (`b3` is minor's third), with `'` for
 * each octave up and `,` for each down, then a colon and its length in quarter notes; `-` is a rest. Chords are
 * degrees in Roman numerals, those of a measure evenly spread. `|` stands between measures.
 *
 * The file is one table, and as long as there are phrases.
 */
import type { Texture } from '$lib/arrange/texture';

/** What a phrase is for. */
export const PHRASE_USES = ['opening', 'ending', 'turnaround', 'fill'] as const;
/** What a phrase is for. */
export type PhraseUse = (typeof PHRASE_USES)[number];

export interface Phrase {
  /** Small letters and hyphens; stays the same for good, for pieces and calls name it. */
  readonly id: string;
  readonly name: string;
  readonly use: PhraseUse;
  /** The mode of the keys it is for. */
  readonly mode: 'major' | 'minor';
  readonly texture: Texture;
  /** Quarter notes of a measure. */
  readonly beats: 3 | 4;
  /** Quarter notes a minute. */
  readonly tempo: number;
  readonly chords: string;
  readonly notes: string;
  /** How it is made, as a sentence. */
  readonly made: string;
}

type Row = readonly [
  id: string,
  name: string,
  texture: Texture,
  chords: string,
  notes: string,
  made: string,
];

const rows = (
  use: PhraseUse,
  mode: Phrase['mode'],
  all: readonly Row[],
  { beats = 4, tempo = 92 }: { readonly beats?: 3 | 4; readonly tempo?: number } = {},
): Phrase[] =>
  all.map(([id, name, texture, chords, notes, made]) => ({
    ...{ id, name, use, mode, texture, beats, tempo, chords, notes, made },
  }));

/** All phrases, in the order in which they are listed. */
export const PHRASES: readonly Phrase[] = [
  ...rows('opening', 'major', [
    [
      'rise-in-thirds',
      'Rise in thirds',
      'thirds',
      'I | I',
      "5:1 1':1 2':1 3':1 | 3':4",
      'From the fifth up to the third of the home chord, with the second between, a third below each note.',
    ],
    [
      'stroll-in-sixths',
      'Stroll in sixths',
      'sixths',
      'I | I',
      "3':1 4':1 5':1 6':1 | 5':2 3':2",
      'Four steps of the scale up from the third and back into the chord, a sixth below each note.',
    ],
    [
      'there-and-back',
      'There and back',
      'chord-melody',
      'I IV | I',
      '5:2 6:2 | 5:4',
      'The upper note goes one step up with the fourth degree and returns with the first.',
    ],
    [
      'climb-to-the-fifth',
      'Climb to the fifth',
      'line',
      'I | I',
      '5,:.5 6,:.5 7,:.5 1:.5 2:1 3:1 | 5:4',
      'The scale from the fifth below home up to the third, then a leap of a third onto the fifth.',
    ],
  ]),
  ...rows(
    'opening',
    'major',
    [
      [
        'waltz-call',
        'Waltz call',
        'line',
        'I | I',
        '5,:1 1:1 3:1 | 5:3',
        'The home chord from its fifth upward, a note a beat.',
      ],
    ],
    { beats: 3, tempo: 108 },
  ),
  ...rows('ending', 'major', [
    [
      'home-in-sixths',
      'Home in sixths',
      'sixths',
      'V7 | I',
      "5':1 4':1 3':1 2':1 | 1':4",
      'Down the scale from the fifth to home over the dominant, a sixth below each note.',
    ],
    [
      'soft-fall',
      'Soft fall',
      'chord-melody',
      'IV iv | I',
      '6:2 b6:2 | 5:4',
      'The third of the fourth degree is lowered before it comes to rest on the fifth of home.',
    ],
    [
      'down-to-home',
      'Down to home',
      'line',
      'V7 | I',
      '5:.5 4:.5 3:.5 2:.5 7,:1 2:1 | 1:4',
      'The scale down to the second, the leading note and the second around home, then home.',
    ],
    [
      'close-in-thirds',
      'Close in thirds',
      'thirds',
      'V7 | I',
      "5':1 4':1 2':1 4':1 | 3':4",
      'Three tones of the dominant, the seventh last, falling onto the third of home, a third below each.',
    ],
    [
      'second-fifth-home',
      'Second, fifth, home',
      'chord-melody',
      'ii7 V7 | I',
      '4:2 4:2 | 3:4',
      'One note is held as the third of the second degree and the seventh of the fifth, and falls to the third of home.',
    ],
  ]),
  ...rows('turnaround', 'major', [
    [
      'one-six-two-five',
      'One, six, two, five',
      'chord-melody',
      'I vi | ii7 V7',
      '5:2 3:2 | 4:2 2:2',
      'Each upper note is a tone of its chord, the nearest to the one before that goes down to the fifth of the dominant.',
    ],
    [
      'sharpened-road',
      'Sharpened road',
      'line',
      'I VI7 | ii7 V7',
      '5:1 3:1 #1:1 3:1 | 4:1 2:1 7,:1 2:1',
      'Two tones of every chord; the third of the major chord on six is the sharpened tonic, which leads to the second degree.',
    ],
    [
      'round-in-sixths',
      'Round in sixths',
      'sixths',
      'I IV | I V7',
      "3':1 5':1 6':1 4':1 | 5':1 3':1 2':2",
      'Tones of each chord, two a chord, a sixth below each.',
    ],
    [
      'steps-down-in-thirds',
      'Steps down in thirds',
      'thirds',
      'I IV | I V7',
      "5':1 5':1 4':1 4':1 | 3':1 3':1 2':2",
      'The scale down from the fifth to the second, every step struck twice, a third below each.',
    ],
  ]),
  ...rows('turnaround', 'minor', [
    [
      'minor-round',
      'Minor round',
      'line',
      'i iv | V7',
      '1:1 b3:1 4:1 b6:1 | 5:1 4:.5 2:.5 7,:2',
      'Two tones of the first and of the fourth degree, then down the dominant to the leading note.',
    ],
  ]),
  ...rows('fill', 'major', [
    [
      'five-notes-down',
      'Five notes down',
      'line',
      'I',
      '3:.5 2:.5 1:.5 6,:.5 5,:2',
      'Down the major pentatonic scale from the third to the fifth below home.',
    ],
    [
      'third-answer',
      'Answer in thirds',
      'thirds',
      'I',
      "3':.5 4':.5 5':1 3':2",
      'From the third to the fifth of home and back, a third below each note.',
    ],
    [
      'turn-in-sixths',
      'Turn in sixths',
      'sixths',
      'I',
      "5':.5 6':.5 5':1 3':2",
      'A turn over the fifth of home, falling to the third, a sixth below each note.',
    ],
    [
      'bent-third',
      'Bent third',
      'line',
      'I',
      'b3:.5 3:.5 5:1 6:.5 5:.5 3:1',
      'The minor third is pulled to the major one, then the sixth and fifth of home.',
    ],
    [
      'fourth-falling',
      'Fourth, falling',
      'line',
      'IV',
      '6:.5 5:.5 4:.5 1:.5 6,:2',
      'From the third of the fourth degree down its chord, with one passing note.',
    ],
    [
      'fourth-in-sixths',
      'Fourth in sixths',
      'sixths',
      'IV',
      "6':1 5':.5 4':.5 6':2",
      'From the third of the fourth degree down to its root and back, a sixth below each note.',
    ],
    [
      'fourth-with-flat-seven',
      'Fourth with flat seven',
      'thirds',
      'IV',
      "1':.5 b7:.5 6:1 4:2",
      'Down from the fifth of the fourth degree over the flat seventh of the key, a third below each note.',
    ],
    [
      'fifth-climbing',
      'Fifth, climbing',
      'line',
      'V7',
      "2:.5 4:.5 5:.5 7:.5 2':1 7:1",
      'The four tones of the dominant in order, from its fifth, resting on its third.',
    ],
    [
      'fifth-in-thirds',
      'Fifth in thirds',
      'thirds',
      'V7',
      "4':.5 5':.5 4':1 2':2",
      'Around the seventh of the dominant and down to its fifth, a third below each note.',
    ],
    [
      'fifth-in-sixths',
      'Fifth in sixths',
      'sixths',
      'V7',
      "2':1 1':.5 7:.5 2':2",
      'From the fifth of the dominant down to its third and back, a sixth below each note.',
    ],
    [
      'scale-to-home',
      'Scale to home',
      'line',
      'V7 | I',
      "5:.5 6:.5 7:.5 1':.5 2':1 7:1 | 1':4",
      'The scale up from the root of the dominant over home, back to the leading note, and home.',
    ],
    [
      'two-five-line',
      'Two, five',
      'line',
      'ii7 V7 | I',
      "4:.5 6:.5 1':.5 6:.5 5:.5 4:.5 2:.5 7,:.5 | 1:4",
      'Up and down three tones of the second degree, then down the dominant to the leading note and home.',
    ],
    [
      'guide-notes',
      'Guide notes',
      'chord-melody',
      'ii7 V7 | I',
      "1':2 7:2 | 5:4",
      'The seventh of the second degree falls to the third of the fifth, which leads home.',
    ],
  ]),
  ...rows('fill', 'minor', [
    [
      'minor-reach',
      'Minor reach',
      'line',
      'i',
      '5,:.5 1:.5 2:.5 b3:.5 5:1 b3:1',
      'From the fifth below home up the minor scale to the third, and a leap to the fifth and back.',
    ],
    [
      'minor-thirds',
      'Minor thirds',
      'thirds',
      'i',
      "b3':.5 4':.5 5':1 b3':2",
      'From the third to the fifth of the minor home chord and back, a third below each note.',
    ],
  ]),
  ...rows('ending', 'minor', [
    [
      'minor-home-in-sixths',
      'Minor home in sixths',
      'sixths',
      'V7 | i',
      "5':1 4':1 2':2 | b3':4",
      'From the fifth down to the second over the dominant with its leading note, then the third of home.',
    ],
  ]),
];

/** The phrase of an id; `undefined` where there is none. */
export const phraseOf = (id: string): Phrase | undefined => PHRASES.find((each) => each.id === id);
