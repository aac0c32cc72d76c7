/** What a cell or a phrase says that a control does to a string. */
import { mayHalt } from '$lib/setup/halfStops';
import { BOUNDS } from '$lib/setup/bounds';
import type { Pull } from '$lib/setup/setup';
import { chromaOf, chromaOfName, type Chroma } from '$lib/theory/pitch';
import { signedToType } from '$lib/theory/signed';
import type { About, Doubts, Piece } from './doubts';
import { nameOfWord } from './noteWord';
import type { Placed, PullToken } from './pullTokens';

export type Travel = Pick<Pull, 'semitones' | 'half'>;

/** How the chart as a whole is written. */
export interface Manner {
  /** Note names are German, and B is B flat. */
  readonly germanB: boolean;
  /** Bare numbers count whole tones. */
  readonly tones: boolean;
  /** A lone minus is an empty cell and no semitone down. */
  readonly dashIsBlank: boolean;
  /** `1/2` is a half-stop at one semitone on the way to two, and no half of a tone. */
  readonly halfIsStops: boolean;
}

/** Where a pull stands, for doubts about it. */
export interface PullPlace {
  readonly piece: Piece;
  /** `LKL on string 4` */
  readonly spot: string;
  readonly about: About;
  readonly doubts: Doubts;
}

/** No pull of common practice is as wide as a fourth (from memory). */
const FAR = 5;
const MOST = BOUNDS.semitones[1];

/** One stop as it is read, with what is doubtful about it. */
interface Stop {
  semitones: number;
  /** By a sign, a word or a note, rather than because a bare number is a raise. */
  told: boolean;
  byNote: boolean;
  far: boolean;
  letterOnly: boolean;
}

/** Semitones from the open note to a note, the near way or the way that is said. */
function interval(open: Chroma, to: Chroma, sign: number): number {
  const up = chromaOf(to - open);
  if (sign > 0) return up;
  if (sign < 0) return up === 0 ? 0 : up - 12;
  return up > 6 ? up - 12 : up;
}

const isDashBetweenNotes = (tokens: readonly PullToken[], index: number): boolean => {
  const [before, here, after] = [tokens[index - 1], tokens[index], tokens[index + 1]];
  return (
    before?.kind === 'note' &&
    after?.kind === 'note' &&
    here?.kind === 'amount' &&
    here.how === 'marks'
  );
};

/** `a half, then a whole tone down`: the one way that is said, where no amount has a sign of its own. */
function wayBehind(tokens: readonly PullToken[]): -1 | 0 | 1 {
  const ways = new Set(tokens.flatMap((token) => (token.kind === 'way' ? [token.sign] : [])));
  const isPlain = tokens.every(
    (token) =>
      (token.kind !== 'amount' || (token.sign === 0 && token.how !== 'marks')) &&
      token.kind !== 'note' &&
      (token.kind !== 'way' || (token.arrows === 0 && !token.letter)),
  );
  const [only] = ways;
  return isPlain && ways.size === 1 && only !== undefined ? only : 0;
}

/** The stops that tokens tell, in their order. */
function stopsOf(
  tokens: readonly PullToken[],
  open: Chroma,
  manner: Manner,
  sticky: -1 | 0 | 1,
): { stops: Stop[]; halfNext: boolean; sign: number; strayFrom: boolean } | undefined {
  const stops: Stop[] = [];
  let sign: number = sticky || wayBehind(tokens);
  let arrows = 0;
  let isLetter = false;
  let halfNext = false;
  let strayFrom = false;
  let first = true;
  const add = (semitones: number, more: Partial<Stop> = {}): void => {
    stops.push({ semitones, told: true, byNote: false, far: false, letterOnly: false, ...more });
    arrows = 0;
    isLetter = false;
  };
  const flushArrows = (): void => {
    if (arrows > 0 || isLetter) add(sign * Math.max(1, arrows), { letterOnly: isLetter });
  };
  for (const [index, token] of tokens.entries()) {
    if (isDashBetweenNotes(tokens, index)) continue;
    switch (token.kind) {
      case 'amount': {
        const counts = token.how === 'number' && manner.tones ? 2 * token.size : token.size;
        const before = Math.sign(stops.at(-1)?.semitones ?? 0);
        const last = stops.at(-1);
        // `2R`, `1 up`: the way may stand behind
        const after = tokens[index + 1];
        const behind =
          token.sign === 0 && after?.kind === 'way' && tokens[index + 2]?.kind !== 'amount'
            ? after.sign
            : 0;
        const goes = token.sign || behind || sign || before || 1;
        if (token.sign === 0 && last?.byNote && sign === 0 && arrows === 0) break;
        add(goes * counts, {
          told:
            token.sign !== 0 ||
            behind !== 0 ||
            sign !== 0 ||
            token.how !== 'number' ||
            before !== 0,
        });
        if (behind !== 0) {
          sign = behind;
          arrows = 0;
        }
        break;
      }
      case 'way': {
        const justCounted =
          tokens[index - 1]?.kind === 'amount' || tokens[index - 1]?.kind === 'note';
        if (!justCounted) flushArrows();
        sign = token.sign;
        if (justCounted) {
          const last = stops.at(-1);
          if (last?.byNote && last.semitones !== 0 && Math.sign(last.semitones) !== sign)
            return undefined;
          break;
        }
        arrows = token.arrows;
        isLetter = token.letter;
        break;
      }
      case 'note': {
        const chroma = chromaOfName(nameOfWord(token.note, manner.germanB));
        const isFrom =
          first && chroma === open && tokens.slice(index + 1).some(({ kind }) => kind === 'note');
        // `E>F` on a string that is no E
        strayFrom ||=
          first &&
          !isFrom &&
          tokens[index + 1]?.kind === 'to' &&
          tokens.slice(index + 1).some(({ kind }) => kind === 'note');
        first = false;
        if (isFrom) break;
        const semitones = interval(open, chroma, sign);
        add(semitones, { byNote: true, far: sign === 0 && Math.abs(semitones) >= 5 });
        break;
      }
      case 'half':
        halfNext = true;
        break;
      case 'then':
        flushArrows();
        break;
      case 'to':
      case 'open':
      case 'close':
        break;
    }
  }
  flushArrows();
  return { stops, halfNext, sign, strayFrom };
}

/** A pull from its stops: one, or the half-stop and the full way. */
function travelOf(stops: readonly Stop[], halfNext: boolean): Travel | undefined {
  const ways = [...new Set(stops.map(({ semitones }) => semitones))];
  const [one, two, ...more] = ways;
  if (one === undefined || more.length > 0) return undefined;
  const fits = (semitones: number): boolean => semitones !== 0 && Math.abs(semitones) <= MOST;
  if (two === undefined) return fits(one) ? { semitones: one } : undefined;
  if (mayHalt(two, one) && fits(two)) return { semitones: two, half: one };
  if ((halfNext || Math.sign(one) === Math.sign(two)) && mayHalt(one, two) && fits(one))
    return { semitones: one, half: two };
  return undefined;
}

/** Reads the tokens of a pull on a string whose open note is known; `undefined` where they are none. */
export function pullOf(
  placed: readonly Placed[],
  open: Chroma,
  manner: Manner,
  place: PullPlace,
  sticky: -1 | 0 | 1 = 0,
): Travel | undefined {
  const read = stopsOf(
    placed.map(({ token }) => token),
    open,
    manner,
    sticky,
  );
  if (read === undefined) return undefined;
  const travel = travelOf(read.stops, read.halfNext);
  if (travel === undefined) return undefined;
  const { piece, spot, about, doubts } = place;
  if (read.strayFrom && travel.half !== undefined) {
    const chosen = doubts.ask({
      key: `from:${piece.at}:${spot}`,
      piece,
      spot,
      about,
      choices: [
        {
          id: 'stops',
          says: `${signedToType(travel.half)}/${signedToType(travel.semitones)}, a half-stop and the full pull`,
        },
        {
          id: 'full',
          says: `${signedToType(travel.semitones)}, though the string is open elsewhere`,
        },
      ],
    });
    return chosen === 'stops' ? travel : { semitones: travel.semitones };
  }
  const both = read.stops.some(({ byNote }) => byNote) && read.stops.some(({ byNote }) => !byNote);
  if (both && travel.half !== undefined) return chosenOfBoth(read.stops, travel, place);
  if (read.stops.some(({ far }) => far)) {
    const other = travel.semitones > 0 ? travel.semitones - 12 : travel.semitones + 12;
    const ways = [travel.semitones, other].filter((each) => Math.abs(each) <= MOST);
    const chosen = doubts.ask({
      key: `far:${piece.at}`,
      piece,
      spot,
      about,
      choices: ways.map((each) => ({ id: String(each), says: `${signedToType(each)} semitones` })),
    });
    if (travel.half === undefined) return { semitones: Number(chosen) };
  }
  if (read.stops.some(({ letterOnly }) => letterOnly))
    doubts.tell({
      key: `letter:${piece.at}`,
      piece,
      spot,
      about,
      read: `${signedToType(travel.semitones)}, one semitone`,
    });
  if (Math.abs(travel.semitones) >= FAR && !read.stops.some(({ far }) => far))
    doubts.tell({
      key: `wide:${piece.at}:${spot}`,
      piece,
      spot,
      about,
      read: `${signedToType(travel.semitones)} semitones, which is more than most strings can do`,
    });
  if (read.stops.some(({ told }) => !told))
    doubts.tell({
      key: 'unsigned',
      piece,
      spot,
      about,
      read: 'up: a number without a sign is a raise, here and elsewhere',
    });
  return travel;
}

/** An amount and a note that do not agree: which of them counts is asked. */
function chosenOfBoth(
  stops: readonly Stop[],
  travel: Travel,
  { piece, spot, about, doubts }: PullPlace,
): Travel {
  const note = stops.find(({ byNote }) => byNote)?.semitones ?? 0;
  const number = stops.find(({ byNote }) => !byNote)?.semitones ?? 0;
  const chosen = doubts.ask({
    key: `both:${piece.at}`,
    piece,
    spot,
    about,
    choices: [
      { id: 'note', says: `${signedToType(note)}, as the note says` },
      { id: 'number', says: `${signedToType(number)}, as the number says` },
      {
        id: 'stops',
        says: `${signedToType(travel.half ?? 0)}/${signedToType(travel.semitones)}, a half-stop and the full pull`,
      },
    ],
  });
  return chosen === 'stops' ? travel : { semitones: chosen === 'note' ? note : number };
}
