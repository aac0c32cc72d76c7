/**
 * What readers of notation share: bars with chords and melody notes by the time at which they begin,
 * and the progression that these make.
 */
import { told } from '$lib/pieceFaults';
import type { Pitch } from '$lib/theory/pitch';
import type { Chord } from '$lib/theory/chord';
import {
  BOUNDS,
  type Bar,
  type Progression,
  type ProgressionFault,
  type ReadProgression,
  type Slot,
} from '$lib/arrange/progression';

/** Ticks of a quarter note: every division by 2 to 16 comes out whole. */
export const TICKS = 720_720;

export interface ScoreChord {
  /** Ticks after the bar's beginning. */
  readonly at: number;
  readonly chord: Chord | 'no chord';
}

export interface ScoreNote {
  readonly at: number;
  readonly length: number;
  readonly pitch: Pitch;
}

export interface ScoreBar {
  /** Ticks, above 0. */
  readonly length: number;
  readonly chords: readonly ScoreChord[];
  /** The tune, lower notes sounding with it among them. */
  readonly notes: readonly ScoreNote[];
  readonly section?: string;
  /** A section begins here, to which the next repeat goes back. */
  readonly repeatFrom?: boolean;
  /** The section is played this many times in all, and ends with this bar or with its endings. */
  readonly times?: number;
  /** Played only in these passes of a repeat, from 1. */
  readonly passes?: readonly number[];
}

/** An ending of a repeat: bars in a row for the same passes. */
interface Ending {
  readonly passes: readonly number[];
  readonly bars: ScoreBar[];
  goesBack: boolean;
}

/** Bars that are repeated together, or played once, and the endings after them. */
interface Section {
  readonly bars: ScoreBar[];
  readonly endings: Ending[];
  times: number;
}

/** Whether a bar begins a section of its own after the one before. */
const isNewSection = (before: ScoreBar, bar: ScoreBar): boolean =>
  bar.repeatFrom === true ||
  // a repeat without endings is over, or the endings are
  (before.passes === undefined ? (before.times ?? 1) > 1 : bar.passes === undefined);

function sectionsOf(bars: readonly ScoreBar[]): Section[] {
  const sections: Section[] = [];
  let section: Section | undefined;
  let before: ScoreBar | undefined;
  for (const bar of bars) {
    if (section === undefined || (before !== undefined && isNewSection(before, bar))) {
      section = { bars: [], endings: [], times: 1 };
      sections.push(section);
    }
    const { passes, times = 1 } = bar;
    if (passes === undefined) {
      section.bars.push(bar);
      section.times = times;
    } else {
      let ending = section.endings.at(-1);
      if (ending === undefined || ending.goesBack || ending.passes.join() !== passes.join()) {
        ending = { passes, bars: [], goesBack: false };
        section.endings.push(ending);
      }
      ending.bars.push(bar);
      ending.goesBack = times > 1;
    }
    before = bar;
  }
  return sections;
}

/** The bars of one pass, and whether another follows. */
function passOf({ bars, endings, times }: Section, pass: number): [ScoreBar[], boolean] {
  if (endings.length === 0) return [bars, pass < times];
  const all = [...bars];
  for (const [index, ending] of endings.entries()) {
    if (!ending.passes.includes(pass)) continue;
    for (const bar of ending.bars) all.push(bar);
    // after the last pass of several endings there is no ending more; its sign closes the section
    const isLast = endings.length > 1 && index === endings.length - 1;
    const closes = isLast && !ending.passes.some((later) => later > pass);
    if (ending.goesBack && !closes) return [all, true];
  }
  return [all, false];
}

/**
 * The bars in the order in which they are played, `most` of them where there are more; repeats and
 * their endings are written out.
 */
export function played(bars: readonly ScoreBar[], most: number): ScoreBar[] {
  const all: ScoreBar[] = [];
  for (const section of sectionsOf(bars)) {
    let again = true;
    for (let pass = 1; again && all.length < most; pass++) {
      const [here, more] = passOf(section, pass);
      for (const bar of here) all.push(bar);
      again = more;
    }
  }
  return all.slice(0, most);
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** The highest note that sounds at a moment; none where the tune rests. */
export function noteAt(notes: readonly ScoreNote[], at: number): Pitch | undefined {
  let top: Pitch | undefined;
  for (const note of notes)
    if (note.at <= at && at < note.at + note.length && (top?.midi ?? -1) < note.pitch.midi)
      top = note.pitch;
  return top;
}

/** The slots of a bar; a chord that began in an earlier bar goes on. */
function slotsOf(bar: ScoreBar, before: Chord | 'no chord'): Slot[] {
  const starts = new Map<number, Chord | 'no chord'>([[0, before]]);
  for (const { at, chord } of bar.chords)
    if (at < bar.length) starts.set(Math.max(0, Math.round(at)), chord);
  const ordered = [...starts].sort(([a], [b]) => a - b);
  const spans = ordered.map(([at], index) => (ordered[index + 1]?.[0] ?? bar.length) - at);
  const unit = spans.reduce(divisor, 0);
  return ordered.map(([at, chord], index): Slot => {
    const melody = noteAt(bar.notes, at);
    const share = Math.round((spans[index] ?? unit) / unit);
    return { chord, share, ...(melody === undefined ? {} : { melody }) };
  });
}

/** What a score's head says, as far as it says it. */
export type ScoreHead = Omit<Progression, 'bars'>;

/**
 * The chords of a score, each with the note of the tune that sounds as it begins. An upbeat without
 * a chord is left out.
 */
export function progressionOf(
  head: ScoreHead,
  score: readonly ScoreBar[],
  faults: readonly ProgressionFault[],
): ReadProgression {
  const [first, second] = score;
  const upbeat = first?.chords.length === 0 && second !== undefined && first.length < second.length;
  const all = [...faults];
  const bars: Bar[] = [];
  let before: Chord | 'no chord' = 'no chord';
  let slots = 0;
  for (const bar of played(upbeat ? score.slice(1) : score, BOUNDS.slots + 1)) {
    const own = slotsOf(bar, before);
    slots += own.length;
    if (slots > BOUNDS.slots) {
      all.push({
        where: `bar ${String(bars.length + 1)}`,
        ...told('piece.tooManyChords', BOUNDS.slots),
      });
      break;
    }
    before = own.at(-1)?.chord ?? before;
    bars.push({ ...(bar.section === undefined ? {} : { section: bar.section }), slots: own });
  }
  if (
    !bars.some(({ slots: own }) => own.some(({ chord }) => chord !== 'no chord')) &&
    all.length === 0
  )
    all.push({ where: 'the file', ...told('piece.noChordsInScore') });
  return { progression: { ...head, bars }, faults: all };
}

const LONGEST_TITLE = 200;

/** The head with what is known; what is outside the bounds of a progression is left out. */
export function headOf(known: {
  readonly title?: string | undefined;
  readonly key?: Progression['key'] | undefined;
  readonly tempo?: number | undefined;
  readonly metre?: Progression['metre'] | undefined;
}): ScoreHead {
  const { key, tempo, metre } = known;
  const title = known.title?.slice(0, LONGEST_TITLE).replace(/\s+/gu, ' ').trim();
  const units: readonly number[] = BOUNDS.units;
  const metreFits =
    metre !== undefined &&
    metre.beats >= BOUNDS.beats[0] &&
    metre.beats <= BOUNDS.beats[1] &&
    units.includes(metre.unit);
  const tempoFits = tempo !== undefined && tempo >= BOUNDS.tempo[0] && tempo <= BOUNDS.tempo[1];
  return {
    ...(title ? { title } : {}),
    ...(key === undefined ? {} : { key }),
    ...(tempoFits ? { tempo: Math.round(tempo * 100) / 100 } : {}),
    ...(metreFits ? { metre } : {}),
  };
}
