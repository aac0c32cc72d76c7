/**
 * A piece as ChordPro 6: measures in grids with their repeats, one grid for each section; and where there
 * are words, the words with the chords among them. Words have no measures of their own, so where a measure
 * is more than one chord, remarks say where bar lines stand (`[*|]`) and, by a slash, where chords are held. What a
 * jump plays again is written out, since there is no sign for it; a chorus that comes again is `{chorus}`.
 */
import type { Chord } from '$lib/theory/chord';
import { keyText } from '$lib/theory/spelling';
import { keyOf } from '$lib/arrange/findKey';
import { divisor } from '$lib/arrange/fractions';
import { SAME_PLACE, type Measure, type Piece } from '$lib/arrange/piece';
import { asWritten, lengthsOf } from '$lib/arrange/pieceOf';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  quartersOf,
  type Bar,
  type Metre,
  type Slot,
} from '$lib/arrange/progression';
import { metreOfPart } from '$lib/arrange/fractions';
import { barText } from '$lib/arrange/writeText';
import { repeatedParts, twiceAtMost, writtenOut } from '$lib/arrange/writtenOut';
import { lineBetween } from './barLine';

const MEASURES_A_LINE = 4;

/** A directive is a line of its own and ends with a brace. */
const plain = (text: string): string => text.replace(/[\r\n{}]+/gu, ' ').trim();
/** Words keep the spaces at their ends; brackets would be chords. */
const sung = (text: string): string => text.replace(/[\r\n{}[\]]+/gu, ' ');

const hasWords = ({ notes, words = [] }: Measure): boolean =>
  words.length > 0 || notes.some(({ lyrics = [] }) => lyrics.some((each) => each !== undefined));

/** A measure with its slots as they are written. */
interface Written {
  readonly measure: Measure;
  readonly bar: Bar;
  /** Quarter notes. */
  readonly length: number;
  readonly metre: Metre;
}

/** A section, or the piece up to its first one. */
interface Section {
  readonly name: string | undefined;
  readonly measures: readonly Written[];
}

function writtenMeasures(piece: Piece): Written[] {
  const { bars, metre = DEFAULT_METRE } = asWritten(piece);
  const lengths = lengthsOf(piece);
  let now = metre;
  return piece.measures.map((measure, at) => {
    now = measure.metre ?? now;
    return { measure, bar: bars[at] as Bar, length: lengths[at] as number, metre: now };
  });
}

function sectionsOf(measures: readonly Written[]): Section[] {
  const sections: { name: string | undefined; measures: Written[] }[] = [];
  for (const each of measures) {
    const { section } = each.measure;
    if (section !== undefined || sections.length === 0)
      sections.push({ name: section, measures: [] });
    sections.at(-1)?.measures.push(each);
  }
  return sections;
}

const withoutMelody = ({ slots }: Bar): Bar => ({
  slots: slots.map(({ chord, share }) => ({ chord, share })),
});

/** Tells what changes before a measure, as a directive each. */
class Changes {
  #metre: Metre;
  #tempo: number | undefined;
  #quarters: number;
  #isFirst = true;

  constructor({ metre = DEFAULT_METRE, tempo }: Piece) {
    this.#metre = metre;
    this.#quarters = quartersOf(metre);
    this.#tempo = tempo;
  }

  before({ measure, length, metre }: Written): string[] {
    const lines: string[] = [];
    const isFirst = this.#isFirst;
    this.#isFirst = false;
    const own = metreOfPart(metre, length / quartersOf(metre));
    const isPickup = isFirst && length < quartersOf(metre) - SAME_PLACE;
    if (isPickup) lines.push(`{meta: pickup ${own.beats}/${own.unit}}`);
    else {
      const changed = Math.abs(length - this.#quarters) > SAME_PLACE;
      const renamed = metre.beats !== this.#metre.beats || metre.unit !== this.#metre.unit;
      if (changed || renamed) lines.push(`{time: ${own.beats}/${own.unit}}`);
      this.#quarters = length;
      this.#metre = metre;
    }
    for (const { at, tempo } of measure.tempos ?? [])
      if (at < SAME_PLACE && tempo !== (this.#tempo ?? DEFAULT_TEMPO))
        lines.push(`{tempo: ${String(tempo)}}`);
    this.#tempo = measure.tempos?.at(-1)?.tempo ?? this.#tempo;
    return lines;
  }
}

/** A section as a grid; a change within it is told between two grids. */
function gridLines({ name, measures }: Section, changes: Changes, next?: Measure): string[] {
  const lines: string[] = [];
  let line = '';
  let count = 0;
  let open = false;
  const endLine = (): void => {
    if (line !== '') lines.push(line);
    [line, count] = ['', 0];
  };
  const end = (): void => {
    endLine();
    if (open) lines.push('{end_of_grid}');
    open = false;
  };
  const told = measures.map((each) => changes.before(each));
  measures.forEach(({ measure, bar }, at) => {
    const own = told[at] ?? [];
    if (own.length > 0) {
      end();
      lines.push(...own);
    }
    const before = measures[at - 1]?.measure;
    if (!open) {
      const label = at === 0 ? plain(name ?? '') : '';
      lines.push(label === '' ? '{start_of_grid}' : `{start_of_grid: ${label}}`);
      line = lineBetween(undefined, measure);
      open = true;
    } else if (line === '') line = lineBetween(before, measure).replace(/^:/u, '');
    const after = measures[at + 1]?.measure ?? next;
    const closing = lineBetween(measure, after);
    const isLast =
      ++count === MEASURES_A_LINE || at === measures.length - 1 || (told[at + 1] ?? []).length > 0;
    // what opens the next line stands there
    const closed = closing.startsWith(':') ? ':|' : closing === '||' ? '||' : '|';
    line += ` ${barText(withoutMelody(bar))} ${isLast ? closed : closing}`;
    if (isLast) endLine();
  });
  end();
  return lines;
}

/** Every measure is one chord that is named: words need no bar lines to say so. */
const isPlain = (measures: readonly Written[]): boolean =>
  measures.every(
    ({ measure: { chords }, bar: { slots } }) => slots.length === 1 && chords.length === 1,
  );

const chordText = (chord: Chord | 'no chord'): string =>
  `[${chord === 'no chord' ? 'N.C.' : chord.symbol}]`;

/** What stands in a measure at places: chords and held shares before the words there. */
function measureText({ measure, bar, length }: Written, isBare: boolean): string {
  const parts = bar.slots.reduce((sum, { share }) => sum + share, 0);
  const unit = bar.slots.reduce((common: number, { share }) => divisor(common, share), 0);
  const events: { at: number; order: number; text: string }[] = [];
  let before = 0;
  bar.slots.forEach(({ chord, share }: Slot) => {
    const at = (length * before) / parts;
    events.push({ at, order: 1, text: chordText(chord) });
    for (let held = unit; held < share && !isBare; held += unit)
      events.push({ at: (length * (before + held)) / parts, order: 1, text: '[*/]' });
    before += share;
  });
  (measure.words ?? []).forEach(({ at, text, before: leads = false, newLine = false }, index) =>
    events.push({
      at,
      order: leads ? 0 : 2,
      // the first may begin its line with the measure
      text: (newLine && index > 0 ? '\n' : '') + sung(text),
    }),
  );
  for (const { at, lasts, lyrics = [] } of measure.notes) {
    const syllable = lyrics[0];
    if (syllable === undefined || lasts === 0) continue;
    const goesOn = syllable.endsWith('-');
    events.push({ at, order: 2, text: sung(goesOn ? syllable.slice(0, -1) : `${syllable} `) });
  }
  const inOrder = events.map((event, index) => ({ ...event, index }));
  inOrder.sort((a, b) =>
    Math.abs(a.at - b.at) < SAME_PLACE ? a.order - b.order || a.index - b.index : a.at - b.at,
  );
  return inOrder.map(({ text }) => text).join('');
}

/** A section's lines of words with the chords among them. */
function wordLines({ measures }: Section, changes: Changes): string[] {
  const lines: string[] = [];
  const isBare = isPlain(measures);
  const breaks = measures.some(({ measure: { words = [] } }) =>
    words.some(({ newLine }) => newLine),
  );
  let line = '';
  const endLine = (): void => {
    if (line.trim() !== '') lines.push(line.trimEnd());
    line = '';
  };
  let count = 0;
  for (const each of measures) {
    const told = changes.before(each);
    const { words = [] } = each.measure;
    if (told.length > 0 || words[0]?.newLine === true || (!breaks && count === MEASURES_A_LINE)) {
      endLine();
      count = 0;
    }
    count++;
    lines.push(...told);
    // lines may begin further on in the measure
    const [first, ...others] = measureText(each, isBare).split('\n');
    line += `${isBare ? '' : '[*|]'}${first ?? ''}`;
    for (const other of others) {
      endLine();
      line = other;
    }
  }
  endLine();
  return lines;
}

/** By measure: it stands in a section with words, in which there are no signs. */
function inWords({ measures }: Piece): boolean[] {
  let section = -1;
  const sections = measures.map((each, at) =>
    each.section !== undefined || at === 0 ? ++section : section,
  );
  const worded = new Set(sections.filter((_, at) => hasWords(measures[at] as Measure)));
  return sections.map((each) => worded.has(each));
}

/** What jumps lead to is written out, and repeats where words stand. */
function withoutRepeatsInWords(given: Piece): Piece {
  let { piece } = writtenOut(given, { jump: true, part: () => false });
  for (;;) {
    const worded = inWords(piece);
    const part = (from: number, to: number): boolean => worded.slice(from, to + 1).includes(true);
    if (!repeatedParts(piece.measures).some(({ from, to }) => part(from, to))) return piece;
    // another section may have words after that
    ({ piece } = writtenOut(piece, { jump: true, part }));
  }
}

const KINDS = [
  ['chorus', /chorus|refrain/iu],
  ['bridge', /bridge|middle/iu],
  ['verse', /./u],
] as const;
const USUAL = { chorus: 'Chorus', bridge: 'Bridge', verse: 'Verse' } as const;

/** The text of a song sheet: the head, then the words with their chords, or the chords in grids. */
export function writeChordPro(given: Piece): string {
  const piece = twiceAtMost(withoutRepeatsInWords(given));
  const { title, tempo, metre = DEFAULT_METRE } = piece;
  const lines = [
    `{title: ${plain(title ?? 'Progression')}}`,
    `{key: ${keyText(keyOf(asWritten(piece)))}}`,
    ...(tempo === undefined ? [] : [`{tempo: ${String(tempo)}}`]),
    `{time: ${metre.beats}/${metre.unit}}`,
  ];
  const changes = new Changes(piece);
  let chorus: string | undefined;
  const sections = sectionsOf(writtenMeasures(piece));
  sections.forEach((section, at) => {
    const next = sections[at + 1]?.measures[0]?.measure;
    if (!section.measures.some(({ measure }) => hasWords(measure))) {
      lines.push(...gridLines(section, changes, next));
      return;
    }
    const own = wordLines(section, changes);
    const name = plain(section.name ?? '');
    const [kind] = KINDS.find(([, named]) => named.test(name || 'verse')) ?? KINDS[2];
    const label = name === '' || name === USUAL[kind] ? '' : `: ${name}`;
    if (kind === 'chorus' && own.join('\n') === chorus) {
      lines.push(`{chorus${label}}`);
      return;
    }
    if (kind === 'chorus') chorus = own.join('\n');
    // the words before the first section are of none
    if (section.name === undefined) lines.push(...own);
    else lines.push(`{start_of_${kind}${label}}`, ...own, `{end_of_${kind}}`);
  });
  return `${lines.join('\n')}\n`;
}
