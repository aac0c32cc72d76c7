/** The form of a piece in a MusicXML score: bar lines with repeats and endings, and signs above measures. */
import type { Measure } from '$lib/arrange/piece';
import type { Metre } from '$lib/arrange/progression';
import { el, when, type XmlContent, type XmlText } from './xmlText';

/** A line above a measure; each is a direction of its own, since readers keep but one of several in it. */
export const above = (type: XmlText, sound?: XmlText, offset = 0): XmlText =>
  el(
    'direction',
    { placement: 'above' },
    el('direction-type', {}, type),
    when(offset > 0, el('offset', { sound: 'yes' }, offset)),
    el('staff', {}, 1),
    when(sound !== undefined, sound ?? []),
  );

const startsEnding = ({ endings }: Measure, before: Measure | undefined): boolean =>
  endings !== undefined &&
  (before?.times !== undefined || endings.join() !== before?.endings?.join());

/** The line that opens a measure, where it says something. */
export function leftBarline(measure: Measure, before: Measure | undefined): readonly XmlContent[] {
  const { repeats, endings } = measure;
  const starts = startsEnding(measure, before);
  return when(
    starts || repeats === true,
    el(
      'barline',
      { location: 'left' },
      when(repeats === true, el('bar-style', {}, 'heavy-light')),
      when(starts, el('ending', { number: endings?.join(',') ?? '', type: 'start' })),
      when(repeats === true, el('repeat', { direction: 'forward' })),
    ),
  );
}

/** The line that closes a measure: a repeat, the end of an ending, or of the piece. */
export function rightBarline(measure: Measure, after: Measure | undefined): readonly XmlContent[] {
  const { times, endings, jump } = measure;
  const ends =
    endings !== undefined && (after?.endings === undefined || startsEnding(after, measure));
  const repeats = times !== undefined;
  const isLast = after === undefined && jump === undefined;
  return when(
    ends || repeats || isLast,
    el(
      'barline',
      { location: 'right' },
      when(repeats || isLast, el('bar-style', {}, 'light-heavy')),
      when(
        ends,
        el('ending', {
          number: endings?.join(',') ?? '',
          type: repeats ? 'stop' : 'discontinue',
        }),
      ),
      when(
        repeats,
        el('repeat', {
          direction: 'backward',
          ...(times !== undefined && times > 2 ? { times } : {}),
        }),
      ),
    ),
  );
}

/** Signs that begin a measure. */
export const signsBefore = ({ segno, coda }: Measure): readonly XmlContent[] => [
  when(segno === true, above(el('segno'), el('sound', { segno: 'segno' }))),
  when(coda === true, above(el('coda'), el('sound', { coda: 'coda' }))),
];

const JUMPS = { beginning: 'D.C.', segno: 'D.S.' } as const;
const UNTIL = { end: '', fine: ' al Fine', coda: ' al Coda' } as const;

/** Signs at a measure's end: where the piece leaves for the coda, ends, or goes back. */
export const signsBehind = ({ toCoda, fine, jump }: Measure): readonly XmlContent[] => [
  when(toCoda === true, above(el('words', {}, 'To Coda'), el('sound', { tocoda: 'coda' }))),
  when(fine === true, above(el('words', {}, 'Fine'), el('sound', { fine: 'yes' }))),
  jump === undefined
    ? []
    : above(
        el('words', {}, `${JUMPS[jump.to]}${UNTIL[jump.until]}`),
        el('sound', jump.to === 'segno' ? { dalsegno: 'segno' } : { dacapo: 'yes' }),
      ),
];

/** @param offset in divisions of a quarter note behind where it stands */
export const tempoMark = (tempo: number, offset = 0): XmlText =>
  above(
    el('metronome', {}, el('beat-unit', {}, 'quarter'), el('per-minute', {}, tempo)),
    el('sound', { tempo }),
    offset,
  );

/** The element of a metre. */
export const time = ({ beats, unit }: Metre): XmlText =>
  el('time', {}, el('beats', {}, beats), el('beat-type', {}, unit));
