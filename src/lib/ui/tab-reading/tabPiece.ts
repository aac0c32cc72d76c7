/** Positions that tablature tells, as a piece whose chords are kept as they are played there. */
import { stepWishesText } from '$lib/answers/stepWishes';
import { soundOf } from '$lib/answers/sound';
import { faultText } from '$lib/faults';
import { readTablature } from '$lib/formats/read/tablature';
import { refuse, ok, type Result } from '$lib/result';
import type { StepWishes } from '$lib/arrange/wishes';
import { pitchesOf, type Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import { chromaOf, nameText } from '$lib/theory/pitch';
import { has } from '$lib/theory/pcset';
import { prettyNotes } from '$lib/theory/display';
import { readChord } from '$lib/theory/readChord';
import { plainName } from '$lib/theory/toneNames';

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

/** A position without the controls that move none of its strings: a piece has them only where they do something. */
function withoutIdle(setup: Setup, hold: Hold): Hold {
  const engaged = hold.engaged.filter(({ id, state }) =>
    setup.controls.some(
      (control) =>
        control.id === id &&
        control.pulls.some(
          ({ neck, string, half }) =>
            neck === hold.neck &&
            hold.strings.includes(string) &&
            (state === 'full' || half !== undefined),
        ),
    ),
  );
  return engaged.length === hold.engaged.length ? hold : { ...hold, engaged };
}

/** Chords that one string or two may stand in, the commonest first. */
const SEVERAL = ['', 'm', '7', 'm7', 'maj7', '6', 'm7b5', 'sus4', '7b9', 'maj7#11'];

/**
 * The chord that one string or two stand in: the one before them if it has their tones, else the commonest
 * over one of them. A single note is the root of its own.
 */
function chordAround(setup: Setup, hold: Hold, before: string | undefined): string | undefined {
  const tones = pitchesOf(setup, hold).map((midi) => chromaOf(midi));
  const holds = (symbol: string): boolean => {
    const read = readChord(symbol);
    const chord = read.ok && read.value !== 'no chord' ? read.value : undefined;
    return chord !== undefined && tones.every((chroma) => has(chord.pitchClasses, chroma));
  };
  const own = tones.flatMap((chroma) =>
    SEVERAL.map((type) => `${nameText(plainName(chroma))}${type}`),
  );
  // its bass need not be among them
  const plain = before?.replace(/\/[A-G][#b]*$/u, '');
  return [plain, ...own].find((symbol) => symbol !== undefined && holds(symbol));
}

/** Strings so few do not make a chord by themselves. */
const FEW = 2;

/** Kept at its position; few strings say a chord by any of its tones. */
const wishesOf = (hold: Hold, isFew: boolean): StepWishes => ({
  hold,
  ...(isFew
    ? { sizes: [hold.strings.length, hold.strings.length] as const, match: 'rootless' as const }
    : {}),
});

/** Reads tablature for a setup as a piece; why it is none, as a sentence. */
export function tabPieceOf(text: string, setup: Setup): Result<TabPiece, string> {
  const read = readTablature(text, setup);
  if (!read.ok) return refuse(faultText({ ...read.error, path: 'The text' }));
  const { positions, doubts } = read.value;
  const named: { hold: Hold; symbol: string; few: boolean }[] = [];
  let idle = 0;
  for (const position of positions) {
    const hold = withoutIdle(setup, position);
    idle += position.engaged.length - hold.engaged.length;
    const few = hold.strings.length <= FEW;
    const symbol = few ? chordAround(setup, hold, named.at(-1)?.symbol) : symbolOf(setup, hold);
    if (symbol !== undefined) named.push({ hold, symbol, few });
  }
  const unnamed = positions.length - named.length;
  const few = named.filter((each) => each.few).length;
  const told = doubts.map(
    ({ where, found, read: said }) => `${where}: “${found}” is read as ${prettyNotes(said)}.`,
  );
  if (few > 0)
    told.push(
      `${few} of ${positions.length} are single notes or two strings: each stands under a chord that has them, and is played as it is written.`,
    );
  if (idle > 0)
    told.push(
      idle === 1
        ? 'A control that moves none of the strings picked with it is left out.'
        : `In ${idle} places a control that moves none of the strings picked with it is left out.`,
    );
  if (unnamed > 0)
    told.push(`${unnamed} of ${positions.length} have no chord’s name, and are left out.`);
  return ok({
    text: named.map(({ symbol }) => symbol).join(' | '),
    locks: stepWishesText(
      new Map(named.map(({ hold, few: isFew }, index) => [index, wishesOf(hold, isFew)])),
    ),
    count: named.length,
    told,
  });
}
