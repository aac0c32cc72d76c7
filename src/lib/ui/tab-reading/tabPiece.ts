/** Positions that tablature tells, as a piece whose chords are kept as they are played there. */
import { stepWishesText } from '$lib/answers/stepWishes';
import { soundOf } from '$lib/answers/sound';
import { faultText } from '$lib/faults';
import { readTablature } from '$lib/formats/read/tablature';
import { refuse, ok, type Result } from '$lib/result';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import { readChord } from '$lib/theory/readChord';

export interface TabPiece {
  /** One chord a measure, by the name of what sounds. */
  readonly text: string;
  /** Keeps every chord at its position. */
  readonly locks: string;
  readonly count: number;
  /** What could not be read, or has no chord's name: sentences. */
  readonly told: readonly string[];
}

/** The first name of what a position sounds that can be read as a chord. */
const symbolOf = (setup: Setup, hold: Hold): string | undefined =>
  soundOf(setup, hold)
    .names.map(({ symbol }) => symbol)
    .find((symbol) => readChord(symbol).ok && !/[\s|]/u.test(symbol));

/** Reads tablature for a setup as a piece; why it is none, as a sentence. */
export function tabPieceOf(text: string, setup: Setup): Result<TabPiece, string> {
  const read = readTablature(text, setup);
  if (!read.ok) return refuse(faultText({ ...read.error, path: 'The text' }));
  const { positions, doubts } = read.value;
  const named = positions.flatMap((hold) => {
    const symbol = symbolOf(setup, hold);
    return symbol === undefined ? [] : [{ hold, symbol }];
  });
  const alone = positions.length - named.length;
  const told = doubts.map(
    ({ where, found, read: said }) => `${where}: “${found}” is read as ${said}.`,
  );
  if (alone > 0)
    told.push(
      `${alone} of ${positions.length} are single notes or have no chord’s name, and are left out.`,
    );
  return ok({
    text: named.map(({ symbol }) => symbol).join(' | '),
    locks: stepWishesText(new Map(named.map(({ hold }, index) => [index, { hold }]))),
    count: named.length,
    told,
  });
}
