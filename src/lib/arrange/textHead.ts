/** What a text says of the piece: title, key, tempo and metre, and how these change in it. */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { parseKey } from '$lib/theory/spelling';
import { keyOtherwise } from '$lib/theory/typedNames';
import { partOfMetre } from './fractions';
import type { Measure } from './piece';
import { BOUNDS, DEFAULT_METRE, type Metre, type Progression } from './progression';
import { TEMPO_LINE } from './textSigns';
import type { Writable } from './writtenBars';

/** What comes of a line: what the next bar begins with, or what is wrong, and what may be meant. */
interface Said {
  readonly signs?: Pick<Measure, 'tempos' | 'metre'>;
  readonly fault?: Told;
  readonly meant?: readonly string[];
}

/** What the head lines of a text say of its piece, taken line by line: title, key, tempo, metre, pickup. */
export class TextHead {
  readonly said: Writable<Omit<Progression, 'bars'>> = {};
  readonly changesTempo: boolean;
  /** The metre of the first bar alone, where that is a pickup. */
  #pickup: Metre | undefined;
  /** From here on, where it is not the piece's. */
  #now: Metre | undefined;

  constructor(text: string) {
    this.changesTempo = (text.match(TEMPO_LINE)?.length ?? 0) > 1;
  }

  /** Reads a line; below chords (`isBelow`) a tempo and a metre hold from there on. */
  say(name: string, value: string, isBelow: boolean): Said {
    switch (name) {
      case 'title':
        if (value !== '') this.said.title = value;
        return {};
      case 'key':
        return this.#key(value);
      case 'tempo':
        return this.#tempo(value, isBelow);
      default:
        return this.#metre(name, value, isBelow);
    }
  }

  #key(value: string): Said {
    const key = parseKey(value);
    if (key !== undefined) {
      this.said.key = key;
      return {};
    }
    const other = keyOtherwise(value);
    const fault = told('head.key', value);
    return other === undefined ? { fault } : { fault, meant: [other.letters] };
  }

  #tempo(value: string, isBelow: boolean): Said {
    const tempo = Number(/^(\d+(?:\.\d+)?)(?:\s*bpm)?$/iu.exec(value)?.[1] ?? NaN);
    const [least, most] = BOUNDS.tempo;
    if (!(tempo >= least && tempo <= most))
      return { fault: told('head.tempo', value, least, most) };
    if (this.changesTempo && isBelow) return { signs: { tempos: [{ at: 0, tempo }] } };
    this.said.tempo = tempo;
    return {};
  }

  #metre(name: string, value: string, isBelow: boolean): Said {
    const match = /^(\d{1,2})\s*\/\s*(\d{1,2})$/u.exec(value);
    const [beats, unit] = [Number(match?.[1] ?? 0), Number(match?.[2] ?? 0)];
    const units: readonly number[] = BOUNDS.units;
    if (beats < BOUNDS.beats[0] || beats > BOUNDS.beats[1] || !units.includes(unit))
      return { fault: told('head.metre', value) };
    const metre = { beats, unit };
    if (name === 'pickup') this.#pickup = metre;
    else if (!isBelow) this.said.metre = metre;
    else {
      this.#now = metre;
      return { signs: { metre } };
    }
    return {};
  }

  /** How much of a bar of the piece's metre a bar lasts that begins here. */
  part(isFirst: boolean): number {
    const own = (isFirst ? this.#pickup : undefined) ?? this.#now;
    return own === undefined ? 1 : partOfMetre(this.said.metre ?? DEFAULT_METRE, own);
  }
}
