/** Files of music from a seed, by format: good ones, good ones with pieces put in, taken out or moved, and nonsense. */
import { strFromU8, strToU8, zipSync } from 'fflate';
import { Picker } from '../picker';

const HEADS: Readonly<Record<string, readonly string[]>> = {
  abc: [
    'X:1',
    'T:Tune',
    'T:',
    'M:4/4',
    'M:C|',
    'L:1/8',
    'Q:1/4=90',
    'K:G',
    'K:',
    'V:1',
    'w:la-la',
    'P:A',
    '%%score (1 2)',
    'W:words',
    'I:x',
    'U:T=!trill!',
    'm:n=x',
    's:* *',
  ],
  cho: [
    '{title: x}',
    '{t:}',
    '{key: G}',
    '{capo: 2}',
    '{sog}',
    '{eog}',
    '{soc}',
    '{eoc}',
    '{sot}',
    '{eot}',
    '{meta: key C}',
    '{start_of_grid: label="x"}',
    '{comment: {x}}',
    '{',
    '}',
  ],
  txt: [
    'title: x',
    'key: C',
    'tempo: 90',
    'metre: 3/4',
    '[Verse]',
    'melody: E4 - F4',
    '#x',
    '',
    'la la',
  ],
};
const WORDS: Readonly<Record<string, readonly string[]>> = {
  abc: [
    '"C"',
    '"Hm',
    '"^x"',
    'c2',
    '[CEG]4',
    '(3abc',
    '(',
    ')',
    '|',
    '|:',
    ':|',
    '::',
    '|1',
    ':|2',
    '[1',
    '|]',
    'z4',
    'Z9',
    'x',
    '{g}',
    '!trill!',
    '!',
    '+',
    '-',
    '>',
    '<',
    '~',
    '^^c',
    '[K:D]',
    '[V:2]',
    '&',
    '\\',
    'y',
    '`',
    '$',
    '*',
    'H',
    '%x',
  ],
  cho: [
    '[C]',
    '[Hm]',
    '[',
    ']',
    '[*x]',
    'la',
    '|',
    '| C . G |',
    '%',
    ':|',
    '|:x3',
    '|1',
    '{x',
    'C',
    'G7',
  ],
  txt: [
    'C',
    'Am7',
    'Dm7/G',
    '|',
    '|:',
    ':|',
    ':|x3',
    ':|x99999',
    '%',
    '.',
    '/',
    'C:E4',
    'C(b9',
    'N.C.',
    '[x]',
    '[',
    '(',
    ')',
    ':',
    '=',
    '-',
  ],
};
const TAGS = [
  'score-partwise',
  'part',
  'measure',
  'note',
  'pitch',
  'step',
  'octave',
  'alter',
  'duration',
  'chord',
  'harmony',
  'root',
  'root-step',
  'kind',
  'degree',
  'degree-value',
  'degree-type',
  'bass',
  'bass-step',
  'barline',
  'repeat',
  'ending',
  'attributes',
  'divisions',
  'key',
  'fifths',
  'mode',
  'time',
  'beats',
  'beat-type',
  'transpose',
  'chromatic',
  'backup',
  'forward',
  'direction',
  'direction-type',
  'rehearsal',
  'metronome',
  'beat-unit',
  'per-minute',
  'sound',
  'work',
  'work-title',
  'staff',
  'offset',
];
const VALUES = [
  '0',
  '1',
  '4',
  '-1',
  '1e9',
  '-1e300',
  '5e-324',
  'NaN',
  '',
  'C',
  'G',
  'x',
  'major',
  'dominant',
  'none',
  'minor',
  'quarter',
  'forward',
  'backward',
  'start',
  'stop',
  '1,2',
  '&amp;',
  '\u0000',
  '🎸',
];
const ATTRIBUTES = [
  'number',
  'direction',
  'type',
  'times',
  'location',
  'tempo',
  '__proto__',
  'constructor',
];
const SIGNS = [
  '\u0000',
  '\n',
  '\r\n',
  '\t',
  ' ',
  '"',
  "'",
  '\\',
  '<',
  '&',
  '\u2028',
  '\u202e',
  '\u001b[2J',
  '🎸',
  '\ud800',
  'e\u0301',
  '9'.repeat(40),
  '('.repeat(50),
  '%',
  '\ufeff',
];

export const FORMATS = ['abc', 'cho', 'txt', 'musicxml', 'mxl', 'mid'] as const;
export type Format = (typeof FORMATS)[number];

export class RandomPieces {
  readonly #pick: Picker;

  /** From a source of numbers from 0 up to 1. */
  constructor(random: () => number) {
    this.#pick = new Picker(random);
  }

  /** A file of a format, changed in a few places or not at all. */
  file(format: Format): Uint8Array {
    if (format === 'mid') return this.#changedBytes(this.#midi());
    if (format === 'mxl') return this.#changedBytes(this.#archive());
    const text = format === 'musicxml' ? this.#score() : this.#lines(format);
    const bytes = strToU8(this.changed(text));
    return this.#pick.chance(0.05) ? this.#changedBytes(bytes) : bytes;
  }

  /** A text with pieces put in, taken out, doubled or moved. */
  changed(text: string): string {
    let now = text;
    for (let times = this.#pick.chance(0.4) ? 0 : this.#pick.whole(1, 4); times > 0; times--) {
      const [from = 0, to = 0] = [
        this.#pick.whole(0, now.length),
        this.#pick.whole(0, now.length),
      ].sort((a, b) => a - b);
      const end = Math.min(to, from + 40);
      const piece = now.slice(from, end);
      const put = this.#pick.of([
        '',
        this.#pick.of(SIGNS),
        piece + piece,
        [...piece].reverse().join(''),
      ]);
      now = now.slice(0, from) + put + now.slice(end);
      if (this.#pick.chance(0.1)) now = now.slice(0, to);
    }
    return now;
  }

  #changedBytes(bytes: Uint8Array): Uint8Array {
    const now = bytes.slice();
    for (let times = this.#pick.chance(0.6) ? 0 : this.#pick.whole(1, 6); times > 0; times--)
      now[this.#pick.whole(0, now.length - 1)] = this.#pick.of([
        0,
        1,
        127,
        128,
        255,
        this.#pick.whole(0, 255),
      ]);
    return this.#pick.chance(0.15) ? now.slice(0, this.#pick.whole(0, now.length)) : now;
  }

  #lines(format: 'abc' | 'cho' | 'txt'): string {
    const heads = HEADS[format] ?? [];
    const words = WORDS[format] ?? [];
    const lines = this.#pick.list(0, 8, () =>
      this.#pick.chance(0.4)
        ? this.#pick.of(heads)
        : this.#pick
            .list(0, 10, () => this.#pick.of(words))
            .join(this.#pick.chance(0.5) ? ' ' : ''),
    );
    const head = format === 'abc' && this.#pick.chance(0.7) ? ['X:1', 'L:1/4', 'K:C'] : [];
    return [...head, ...lines].join(this.#pick.chance(0.05) ? '\r\n' : '\n');
  }

  #element(depth: number): string {
    const tag = this.#pick.of(TAGS);
    const attributes = this.#pick.list(
      0,
      2,
      () => ` ${this.#pick.of(ATTRIBUTES)}="${this.#pick.of(VALUES)}"`,
    );
    const inner =
      depth === 0 || this.#pick.chance(0.3)
        ? this.#pick.of(VALUES)
        : this.#pick.list(0, 4, () => this.#element(depth - 1)).join('');
    return `<${tag}${[...new Set(attributes)].join('')}>${inner}</${tag}>`;
  }

  #score(): string {
    const value = (tag: string, good: string): string =>
      `<${tag}>${this.#pick.chance(0.9) ? good : this.#pick.of(VALUES)}</${tag}>`;
    const note = (): string =>
      `<note>${this.#pick.chance(0.1) ? '<chord/>' : ''}<pitch>${value('step', this.#pick.of(['C', 'E', 'G']))}${value('octave', '4')}</pitch>${value('duration', '4')}</note>`;
    const harmony = (): string =>
      `<harmony><root>${value('root-step', 'C')}</root>${value('kind', this.#pick.of(['major', 'minor', 'dominant']))}</harmony>`;
    const sign = (): string =>
      `<barline location="${this.#pick.of(['left', 'right'])}">${this.#pick.of(['', `<ending number="${this.#pick.of(VALUES)}" type="${this.#pick.of(['start', 'stop'])}"/>`])}<repeat direction="${this.#pick.of(['forward', 'backward'])}" times="${this.#pick.of(VALUES)}"/></barline>`;
    const measures = this.#pick.list(0, 6, () => {
      const parts = this.#pick.list(0, 6, () =>
        this.#pick.of([note, harmony, sign, () => this.#element(2)])(),
      );
      return `<measure number="${this.#pick.of(VALUES)}">${parts.join('')}</measure>`;
    });
    return `<score-partwise>${this.#pick.chance(0.2) ? this.#element(3) : ''}<part>${measures.join('')}</part></score-partwise>`;
  }

  #archive(): Uint8Array {
    const container = '<container><rootfiles><rootfile full-path="a.xml"/></rootfiles></container>';
    return zipSync(
      {
        'META-INF/container.xml': strToU8(
          this.#pick.chance(0.2) ? this.changed(container) : container,
        ),
        'a.xml': strToU8(this.changed(this.#score())),
      },
      { level: this.#pick.of([0, 6]) },
    );
  }

  #midi(): Uint8Array {
    const events = this.#pick
      .list(0, 12, () => {
        const kind = this.#pick.whole(0, 5);
        const delta = this.#pick.whole(0, 127);
        if (kind < 3) {
          const on = 0x90 + this.#pick.whole(0, 15);
          const note = this.#pick.whole(0, 127);
          return [delta, on, note, this.#pick.whole(0, 127), delta, on, note, 0];
        }
        if (kind === 3)
          return [delta, 0xff, 0x58, 4, this.#pick.whole(0, 255), this.#pick.whole(0, 255), 24, 8];
        if (kind === 4) return [delta, 0xff, 0x51, 3, 0, this.#pick.whole(0, 255), 0];
        return [delta, 0xff, 0x03, 2, 0x61, this.#pick.whole(0, 255)];
      })
      .flat();
    const track = [...events, 0, 0xff, 0x2f, 0];
    const division = this.#pick.of([
      [0, 96],
      [0, 0],
      [0xe7, 0x28],
      [0x7f, 0xff],
    ]);
    return Uint8Array.of(
      ...strToU8('MThd'),
      ...[0, 0, 0, 6, 0, 1, 0, 1],
      ...division,
      ...strToU8('MTrk'),
      ...[0, 0, track.length >> 8, track.length & 255],
      ...track,
    );
  }

  /** Bytes as a text of the same letters, for what is put into an address. */
  letters(bytes: Uint8Array): string {
    return strFromU8(bytes, true);
  }
}
