/**
 * A tune's arrangement as staves in ABC notation (standard 2.1), system by system: the melody with chord signs
 * and words, and below it the steel part in a plain treble clef, as it sounds. Who draws them lays the tablature
 * under each system, note under note.
 */
import { keyOf } from '$lib/arrange/findKey';
import { reduced } from '$lib/arrange/fractions';
import { keysOf } from '$lib/arrange/measureKeys';
import { SAME_PLACE, type Measure, type Piece } from '$lib/arrange/piece';
import { asWritten } from '$lib/arrange/pieceOf';
import { DEFAULT_TEMPO, type Metre } from '$lib/arrange/progression';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import { chordSigns } from '$lib/theory/chordNumber';
import type { ChordSigns } from '$lib/theory/chordSigns';
import { keyText, type Key } from '$lib/theory/spelling';
import { soundingIn, steelOf, type Struck } from './staffSteel';
import { isTiedInto, melodyOf, plain, wordsText } from './staffMelody';
import { voiceText } from './staffVoice';
import { jumpWords, startsEnding } from './tabForm';
import { abcLineBetween } from './write/barLine';
import { hasTune } from './write/musicXmlTune';
import { staffLines } from './staffLines';
import { roomOf } from './staffRoom';

/** One line of staves. */
export interface StaffSystem {
  readonly abc: string;
  /** In pixels of its drawing: a last line that is far from full ends where it ends. */
  readonly width: number;
  /** Measures in it, by their place among those that are written. */
  readonly measures: readonly number[];
  /** Steps in it, by their number among all, and where in the text their note is. */
  readonly steps: readonly { readonly index: number; readonly char: number }[];
}

/** What is to be drawn, and how. */
export interface StaffPlan {
  readonly piece: Piece;
  /** One for each of the piece's, as it is written. */
  readonly measures: readonly TuneMeasure<Struck>[];
  readonly signs: ChordSigns;
  /** Endings and jumps stand in every voice, for players that go through each by itself. */
  readonly inEveryVoice?: true;
  /** Of a system, in pixels of the staff's drawing. */
  readonly width: number;
  /** What a step needs under its note, in the same. */
  readonly widthOf: (index: number) => number;
}

/** Of a short last line, over what its measures want. */
const SLACK = 1.1;

const beatOf = ({ beats, unit }: Metre): number =>
  // three eighths are one beat in compound metres
  unit === 8 && beats % 3 === 0 ? 1.5 : 4 / unit;

/** A tempo where it begins, in beats of the metre; the head of a file has its first one already. */
function tempoOf(piece: Piece, order: number, metre: Metre, isDrawn: boolean): string {
  const first = order === 0 && isDrawn ? (piece.tempo ?? DEFAULT_TEMPO) : undefined;
  const tempo = piece.measures[order]?.tempos?.find(({ at }) => at < SAME_PLACE)?.tempo ?? first;
  if (tempo === undefined) return '';
  const beat = beatOf(metre);
  const { parts, over } = reduced(beat * 8, 32);
  return `[Q:${String(parts)}/${String(over)}=${String(Math.round(tempo / beat))}]`;
}

/** What stands above the line that closes a measure. */
function behindOf({ times, toCoda, fine, jump }: Measure): string {
  const words = [
    ...(times !== undefined && times > 2 ? [`${times} times`] : []),
    ...(toCoda === true ? ['To Coda'] : []),
    ...(fine === true ? ['Fine'] : []),
    ...(jump === undefined ? [] : [jumpWords(jump)]),
  ];
  return words.length === 0 ? '' : `"^${words.join(', ')}"`;
}

/** The signs of a measure's form in one staff: at its beginning, and the line that closes it. */
interface Lines {
  readonly opens: string;
  readonly first: string;
  readonly closes: string;
}

/** The same of each measure in a system; endings and words stand above the topmost staff alone. */
function linesOf({ measures }: Piece, orders: readonly number[], isTop: boolean): Lines[] {
  const plain = (line: string): string => (isTop ? line : line.replace(/\d[\d,]*$/u, ''));
  return orders.map((order, at): Lines => {
    const [before, own, next] = [order - 1, order, order + 1].map((each) => measures[each]);
    if (own === undefined) return { opens: '', first: '', closes: '|' };
    const isLast = at === orders.length - 1;
    const end =
      next === undefined && own.times === undefined ? '|]' : abcLineBetween(own, undefined);
    const opens = own.repeats === true ? '|:' : '';
    const ending = isTop && startsEnding(own, before) ? `[${own.endings?.join() ?? ''} ` : '';
    return {
      opens: at === 0 ? `${opens}${ending}` : '',
      first: isTop
        ? `${own.segno === true ? '!segno!' : ''}${own.coda === true ? '!coda!' : ''}`
        : '',
      closes: `${isTop ? behindOf(own) : ''}${isLast ? end : plain(abcLineBetween(own, next))}`,
    };
  });
}

/** All systems of a tune. */
export function staffSystems(plan: StaffPlan): StaffSystem[] {
  const { piece, measures, signs, inEveryVoice: inEvery = false } = plan;
  const keys = keysOf(piece);
  const first = piece.key ?? keys[0] ?? keyOf(asWritten(piece));
  // where nothing is sung there is one staff, and the signs stand above the steel part
  const isSung = hasTune(piece);
  const sounding = soundingIn(measures);
  const isHeldInto = (order: number): boolean => sounding[order]?.[0]?.goesOn === true;
  const keyAt = (measure: number): Key => keys[measure] ?? first;
  const rooms = measures.map((measure) =>
    roomOf(piece, measure, plan.widthOf, (chord) =>
      chordSigns(chord, keyAt(measure.measure), signs),
    ),
  );
  const lines = staffLines(piece, measures, rooms, plan.width);
  return lines.map(({ orders, filled, isShort }): StaffSystem => {
    const all = orders.map((order) => measures[order] as TuneMeasure<Struck>);
    const [head] = all;
    const key = keyAt(head?.measure ?? 0);
    const before = measures[(orders[0] ?? 0) - 1]?.metre;
    const told = (metre: Metre | undefined): string =>
      metre === undefined ? 'none' : `${metre.beats}/${metre.unit}`;
    const isNew =
      before === undefined || before.beats !== head?.metre.beats || before.unit !== head.metre.unit;
    let melody = '';
    let steel = '';
    let slur = false;
    let now = head?.metre;
    let heldKey = key;
    // a strike is told where it begins, and not again on every line
    let strike = measures
      .slice(0, orders[0])
      .findLast(({ steps }) => steps.length > 0)
      ?.steps.at(-1)?.step.strike;
    const [start] = orders as readonly [number, ...number[]];
    // room for what is left of a tie, in all staves alike
    const room = isHeldInto(start) || (isSung && isTiedInto(piece, measures, start)) ? 'y' : '';
    const melodies = all.map((measure, order) => {
      const own = keyAt(measure.measure);
      const [here, isLast] = [orders[order] ?? 0, order === all.length - 1];
      const ties = {
        isHeld: order === 0 && isTiedInto(piece, measures, here),
        // what is tied into a repeat does not lead to the note that is written behind it
        goesOver: inEvery || isLast || isTiedInto(piece, measures, here + 1),
      };
      return { own, ...melodyOf(piece, measure, own, signs, ties) };
    });
    const verses = Math.max(
      0,
      ...melodies.flatMap(({ lyrics }) => lyrics.map((each) => each.length)),
    );
    const places: { index: number; char: number }[] = [];
    const [top, under] = [linesOf(piece, orders, true), linesOf(piece, orders, inEvery || !isSung)];
    all.forEach((measure, order) => {
      const [above, below] = [top[order] as Lines, under[order] as Lines];
      const { own, events } = melodies[order] as (typeof melodies)[number];
      const beat = beatOf(measure.metre);
      let change = '';
      const tempo = tempoOf(piece, orders[order] ?? 0, measure.metre, !inEvery);
      if (now?.beats !== measure.metre.beats || now.unit !== measure.metre.unit)
        change += `[M:${told(measure.metre)}]`;
      if (keyText(heldKey) !== keyText(own)) change += `[K:${keyText(own)}]`;
      now = measure.metre;
      heldKey = own;
      const section =
        measure.section === undefined
          ? ''
          : `[P:${plain(measure.section).replace(/[[\]]/gu, ' ')}]`;
      const begins = order === 0 ? room : '';
      melody += `${above.opens}${change}${tempo}${begins}${section}${above.first}${voiceText(events, own, beat).text}${above.closes} `;
      const before = `${below.opens}${change}${begins}${isSung ? '' : tempo + section}${below.first}`;
      const part = steelOf(
        sounding[orders[order] ?? 0] ?? [],
        (measure.lasts * 4) / measure.metre.unit,
        isSung
          ? []
          : events
              .map(({ from, before = '' }) => ({ at: from, text: before }))
              .filter(({ text }) => text !== ''),
        strike,
      );
      if (measure.steps.length > 0) strike = measure.steps.at(-1)?.step.strike;
      // a slur ends with its system, and a tie leads into the next
      const [begin, end] = [order === 0, order === all.length - 1];
      const steelEvents = part.events.map((event, each) => ({
        ...event,
        ...(end && each === part.events.length - 1 ? { slurred: false } : {}),
        ...(begin && each === 0 && isHeldInto(orders[0] ?? 0) ? { held: true } : {}),
      }));
      const voice = voiceText(steelEvents, own, beat, slur);
      slur = voice.open;
      part.indexes.forEach((index, event) => {
        if (index !== undefined)
          places.push({ index, char: steel.length + before.length + (voice.at[event] ?? 0) });
      });
      steel += `${before}${voice.text}${below.closes} `;
    });
    const text = [
      'X:1',
      '%%stretchlast 1',
      'L:1/4',
      `M:${isNew ? told(head?.metre) : 'none'}`,
      ...(isSung ? ['%%score 1 2'] : []),
      `K:${keyText(key)} clef=treble`,
      ...(isSung ? ['V:1', 'V:2', `[V:1] ${melody}`] : []),
      ...Array.from(
        { length: verses },
        (_, verse) => `w: ${melodies.map(({ lyrics }) => wordsText(lyrics, verse)).join(' | ')}`,
      ),
      isSung ? '[V:2] ' : '',
    ].join('\n');
    return {
      abc: `${text}${steel}\n`,
      // what draws shares the room out a little otherwise than it was reckoned
      width: isShort ? Math.min(plan.width, Math.ceil(filled * SLACK)) : plan.width,
      measures: orders,
      steps: places.map(({ index, char }) => ({ index, char: text.length + char })),
    };
  });
}
