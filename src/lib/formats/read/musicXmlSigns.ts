/** Signs of a MusicXML direction: tempo, sections, and where the piece goes on. */
import type { Jump } from '$lib/arrange/piece';
import type { ScoreBar } from './score';
import { childOf, numberOf, textOf, type XmlElement } from './xml';

/** The first text of a kind among the types of a direction. */
function typeText(direction: XmlElement, kind: string): string | undefined {
  for (const type of direction.children) {
    const text = textOf(type, kind);
    if (text) return text;
  }
  return undefined;
}

const hasType = (direction: XmlElement, kind: string): boolean =>
  direction.children.some((type) => childOf(type, kind) !== undefined);

/** The name of a section, where a direction has one. */
export const rehearsalIn = (direction: XmlElement): string | undefined =>
  typeText(direction, 'rehearsal');

/** Quarter notes a minute. */
export function tempoIn(sound: XmlElement | undefined): number | undefined {
  const tempo = Number(sound?.attributes['tempo'] ?? NaN);
  return tempo > 0 ? tempo : undefined;
}

const QUARTERS: Readonly<Record<string, number>> = {
  whole: 4,
  half: 2,
  quarter: 1,
  eighth: 0.5,
  '16th': 0.25,
};

/** Quarter notes a minute, where a direction has a metronome's mark. */
export function metronomeIn(direction: XmlElement): number | undefined {
  for (const type of direction.children) {
    const metronome = childOf(type, 'metronome');
    const beat = QUARTERS[textOf(metronome, 'beat-unit') ?? ''];
    const minute = numberOf(metronome, 'per-minute');
    if (beat === undefined || minute === undefined) continue;
    return minute * beat * (childOf(metronome, 'beat-unit-dot') ? 1.5 : 1);
  }
  return undefined;
}

type Signs = { -readonly [sign in 'segno' | 'coda' | 'toCoda' | 'fine' | 'jump']?: ScoreBar[sign] };

/** D.C. and D.S. as words; `al Fine` and `al Coda` say until where. */
const JUMP = /\b(d\.?\s?c\.?|da capo|d\.?\s?s\.?|dal segno)(?=\W|$)/iu;

/**
 * What a direction or a sound on its own says of the order of playing: by the attributes of `sound`,
 * which are meant for that, else by its signs and words. A jump that does not say how the piece ends
 * then ends where the piece does; `until` is settled once all signs are known.
 */
export function orderSigns(element: XmlElement): Signs {
  const sound = element.name === 'sound' ? element : childOf(element, 'sound');
  const says = (name: string): boolean => sound?.attributes[name] !== undefined;
  const words = element.name === 'direction' ? (typeText(element, 'words') ?? '') : '';
  const jump = JUMP.exec(words)?.[1];
  const to: Jump['to'] | undefined =
    says('dalsegno') || /^d\.?\s?s|^dal/iu.test(jump ?? '')
      ? 'segno'
      : says('dacapo') || jump !== undefined
        ? 'beginning'
        : undefined;
  const until = /fine/iu.test(words) ? 'fine' : /coda/iu.test(words) ? 'coda' : 'end';
  const toCoda = says('tocoda') || /^\W*to coda/iu.test(words);
  const isCoda = says('coda') || (hasType(element, 'coda') && !toCoda && to === undefined);
  const isFine = says('fine') || /^\W*fine\W*$/iu.test(words);
  return {
    ...(says('segno') || hasType(element, 'segno') ? { segno: true } : {}),
    ...(isCoda ? { coda: true } : {}),
    ...(toCoda ? { toCoda: true } : {}),
    ...(isFine ? { fine: true } : {}),
    ...(to === undefined ? {} : { jump: { to, until } }),
  };
}
