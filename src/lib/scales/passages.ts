/**
 * Passages: from one position to another, or to a chord wherever it lies, with notes or chords of a scale
 * between. Each is the best that its notes allow, by the solver of tunes; of the passages that there are the
 * easiest of every kind come first.
 */
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import { chordOf, type Chord } from '$lib/theory/chord';
import { pcSetOf, type PcSet } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, pitchNamed, type Midi, type Pitch } from '$lib/theory/pitch';
import type { Scale } from '$lib/theory/scales';
import { spelled, type SpelledTone } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { pitchesOf, type Hold } from '$lib/search/hold';
import { slantsByDefault } from '$lib/search/nutIndex';
import { onsetsOf, type Onset } from '$lib/arrange/onsets';
import type { Piece } from '$lib/arrange/piece';
import { tones, type ToneStage } from '$lib/arrange/toneStage';
import { plainStage } from '$lib/arrange/stage';
import { bestThrough, type TuneStep, type TuneWay } from '$lib/arrange/tune';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { asChords, asHeld } from './candidates';
import { linesBetween, type Line, type LineShape } from './lines';

/** Single notes; notes with a third or a sixth below; chords of the scale. */
const PASSAGE_KINDS = ['line', 'thirds', 'sixths', 'chords'] as const;
/** What lies between the two positions. */
export type PassageKind = (typeof PASSAGE_KINDS)[number];

export interface PassageQuestion {
  readonly from: Hold;
  /** What `from` is played as, where it is a chord. */
  readonly fromChord?: Chord | undefined;
  readonly to:
    | { readonly hold: Hold; readonly chord?: Chord | undefined }
    | { readonly chord: Chord };
  readonly scale: Scale;
  /** A slanted bar may be used; where left out, on setups without pedals. */
  readonly slants?: boolean | undefined;
}

export interface Passage {
  readonly kind: PassageKind;
  readonly shape: LineShape;
  /** The notes on top between the two positions. */
  readonly line: readonly Pitch[];
  readonly way: TuneWay;
}

/** Quarter notes a minute, and how many of them the ends last, and notes and chords between. */
const TEMPO = 100;
const LASTS = { from: 1, to: 2, note: 0.5, chord: 1 } as const;

/** Semitones of a second voice below the line. */
const BELOW = { thirds: [3, 4], sixths: [8, 9] } as const;

/** Semitones from the top of a position to the top of a chord that may be anywhere, at most. */
const FARTHEST = 9;
/** Passages of a kind that are told. */
const OF_A_KIND = 2;

/** Triads by their degrees: all that a scale has of them is told. */
const TRIADS = [
  ['1', '3', '5'],
  ['1', 'b3', '5'],
  ['1', 'b3', 'b5'],
] as const;

/** The major, minor and diminished triads that lie in a scale whole, on its notes in order. */
export const triadsIn = ({ tones: all, pitchClasses }: Scale): Chord[] =>
  all.flatMap(({ name }) =>
    TRIADS.map((degrees) => chordOf(name, degrees)).filter(
      ({ pitchClasses: own }) => (own & ~pitchClasses) === 0,
    ),
  );

/** A note of the scale below, by one of these many semitones; `undefined` where the scale has none there. */
function below(scale: Scale, midi: Midi, semitones: readonly number[]): Midi | undefined {
  return semitones
    .map((each) => midi - each)
    .find((pitch) => (scale.pitchClasses & (1 << chromaOf(pitch))) !== 0);
}

/** All that is asked, with what is the same in every passage. */
interface Setting extends PassageQuestion {
  readonly setup: Setup;
  readonly wishes: Wishes;
  readonly start: ToneStage;
  readonly names: readonly SpelledTone[];
  readonly passing: readonly Chord[];
}

const pitchIn = ({ names }: Setting, midi: Midi): Pitch => pitchNamed(spelled(names, midi), midi);

/** A passage as a little piece: its top line in time. */
function pieceOf(setting: Setting, line: Line, lasts: number): Piece {
  const { fromChord, to } = setting;
  const arrives = LASTS.from + line.notes.length * lasts;
  const notes = [line.from, ...line.notes, line.to].map((midi, at) => ({
    at: at === 0 ? 0 : LASTS.from + (at - 1) * lasts,
    lasts: at === 0 ? LASTS.from : at > line.notes.length ? LASTS.to : lasts,
    pitch: pitchIn(setting, midi),
  }));
  return {
    tempo: TEMPO,
    key: { tonic: setting.scale.root, mode: 'major' },
    measures: [
      {
        lasts: arrives + LASTS.to,
        chords: [
          ...(fromChord === undefined ? [] : [{ at: 0, chord: fromChord }]),
          ...(to.chord === undefined ? [] : [{ at: arrives, chord: to.chord }]),
        ],
        notes,
      },
    ],
  };
}

/** The candidates of a note between, and what sounds below it; `undefined` where the scale has no such note. */
function between(
  setting: Setting,
  kind: PassageKind,
  onset: Onset,
  midi: Midi,
): { readonly onset: Onset; readonly tones: ToneStage } | undefined {
  const { setup, wishes, scale, passing, from } = setting;
  const { chord: _chord, ...free } = onset;
  if (kind === 'line') return { onset: free, tones: tones(setup, wishes, [midi]) };
  if (kind === 'chords') {
    const sets = passing.map(({ pitchClasses }) => ({ set: pitchClasses, missing: [] }));
    return {
      onset: { ...free, texture: 'chord-melody', asChord: true },
      tones: asChords(setup, wishes, { neck: from.neck, sets, top: midi }),
    };
  }
  const second = below(scale, midi, BELOW[kind]);
  return second === undefined
    ? undefined
    : {
        onset: { ...free, texture: kind, second: pitchIn(setting, second) },
        tones: tones(setup, wishes, [second, midi]),
      };
}

/** A passage that is not yet laid out. */
interface Draft {
  readonly kind: PassageKind;
  /** In thousandths. */
  readonly cost: number;
  readonly passage: () => Passage;
}

/** The best way to play a line in a texture; `undefined` where some of it cannot be had, or it costs more than so much. */
function draftOf(
  setting: Setting,
  kind: PassageKind,
  line: Line,
  end: ToneStage,
  atMost: number,
): Draft | undefined {
  const { setup, wishes, start, passing } = setting;
  const piece = pieceOf(setting, line, kind === 'chords' ? LASTS.chord : LASTS.note);
  const onsets = onsetsOf(piece, { texture: 'line', harmony: 'changes', measures: [] });
  const last = onsets.length - 1;
  const moments = onsets.map((onset, at) => {
    if (at !== 0 && at !== last) return between(setting, kind, onset, line.notes[at - 1] as Midi);
    const asChord = { ...onset, texture: 'chord-melody' as const, asChord: true };
    return { onset: asChord, tones: at === 0 ? start : end };
  });
  const all = moments.filter((each) => each !== undefined);
  if (all.length < moments.length) return undefined;
  const best = bestThrough(setup, wishes, all, atMost);
  if (best === undefined) return undefined;
  const passage = (): Passage => {
    const way = best.way();
    const steps = way.steps.map((step, at) =>
      kind === 'chords' && at !== 0 && at !== last ? named(step, passing) : step,
    );
    const notes = line.notes.map((midi) => pitchIn(setting, midi));
    return { kind, shape: line.shape, line: notes, way: { ...way, steps } };
  };
  return { kind, cost: best.cost, passage };
}

/** A step on a passing chord, called by its name. */
function named(step: TuneStep, passing: readonly Chord[]): TuneStep {
  const set = pcSetOf(step.hold.pitches.map(chromaOf));
  const chord = passing.find(({ pitchClasses }) => pitchClasses === set);
  return chord === undefined
    ? step
    : { ...step, onset: { ...step.onset, chord }, tones: chord.tones };
}

/** The end of a passage, and the notes that can be on top there. */
interface End {
  readonly tops: readonly Midi[];
  readonly at: (top: Midi) => ToneStage;
  readonly set: PcSet;
}

/** Nothing comes before the first moment that could stay engaged, and nothing after the last that it could stay for. */
const asEnd = (all: ToneStage): ToneStage => ({ ...all, stage: plainStage(all.stage) });

function endOf(setup: Setup, wishes: Wishes, { from, to }: PassageQuestion, start: Midi): End {
  if ('hold' in to) {
    const stage = asEnd(asHeld(setup, wishes, to.hold));
    const pitches = pitchesOf(setup, to.hold);
    return {
      tops: stage.stage.layer.count === 0 ? [] : [Math.max(...pitches)],
      at: () => stage,
      set: pcSetOf(pitches.map(chromaOf)),
    };
  }
  const { chord } = to;
  const sets = allowedSets(chord, defaultMatch(chord));
  const lowest = chord.bass === undefined ? [] : [{ chroma: chromaOfName(chord.bass) }];
  const known = new Map<Midi, ToneStage>();
  const at = (top: Midi): ToneStage => {
    const stage =
      known.get(top) ?? asEnd(asChords(setup, wishes, { neck: from.neck, sets, lowest, top }));
    known.set(top, stage);
    return stage;
  };
  const tops = Array.from(
    { length: 2 * FARTHEST + 1 },
    (_, each) => start - FARTHEST + each,
  ).filter((top) => (chord.pitchClasses & (1 << chromaOf(top))) !== 0);
  return { tops, at, set: chord.pitchClasses };
}

/**
 * The best passages, the easiest first, at most two of a kind. Exact for what is looked at: the lines of
 * `linesBetween` from the highest note of the one position to the highest of the other, where a chord is asked
 * within nine semitones of it; each in every texture, over all strings, frets and combinations of one neck.
 * Empty where the scale has nothing to put between, or a position cannot be held.
 */
export function passages(setup: Setup, question: PassageQuestion): Passage[] {
  const { from, fromChord, to, scale } = question;
  const many = Math.max(3, Math.min(4, from.strings.length));
  const wishes: Wishes = {
    ...noWishes(question.slants ?? slantsByDefault(setup)),
    necks: [from.neck],
    sizes: [3, many],
  };
  const start = asEnd(asHeld(setup, wishes, from));
  if (start.stage.layer.count === 0) return [];
  const pitches = pitchesOf(setup, from);
  const top = Math.max(...pitches);
  const end = endOf(setup, wishes, question, top);
  const own = pcSetOf(pitches.map(chromaOf));
  const names = [...scale.tones, ...(fromChord?.tones ?? []), ...(to.chord?.tones ?? [])];
  const setting: Setting = {
    ...question,
    ...{ setup, wishes, start, names },
    passing: triadsIn(scale).filter(
      ({ pitchClasses }) =>
        pitchClasses !== own &&
        pitchClasses !== end.set &&
        pitchClasses !== fromChord?.pitchClasses,
    ),
  };
  const lines = end.tops.flatMap((goal) =>
    linesBetween(scale, top, goal).map((line) => ({ line, end: end.at(goal) })),
  );
  return PASSAGE_KINDS.flatMap((kind) => easiest(setting, kind, lines))
    .sort((a, b) => a.cost - b.cost || a.line - b.line)
    .map(({ passage }) => passage());
}

/** The easiest of a kind. Short lines come first, for beside their cost many longer ones need not be solved. */
function easiest(
  setting: Setting,
  kind: PassageKind,
  lines: readonly { readonly line: Line; readonly end: ToneStage }[],
): (Draft & { readonly line: number })[] {
  const order = lines
    .map((each, number) => ({ ...each, number }))
    .sort((a, b) => a.line.notes.length - b.line.notes.length);
  let found: (Draft & { readonly line: number })[] = [];
  for (const { line, end, number } of order) {
    const draft = draftOf(setting, kind, line, end, found[OF_A_KIND - 1]?.cost ?? Infinity);
    if (draft === undefined) continue;
    found = [...found, { ...draft, line: number }]
      .sort((a, b) => a.cost - b.cost || a.line - b.line)
      .slice(0, OF_A_KIND);
  }
  return found;
}
