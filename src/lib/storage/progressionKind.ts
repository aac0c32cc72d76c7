/**
 * A progression as it lies on the device: its structure as chords, what those leave out beside them, and what is
 * being typed and not finished as a draft.
 */
import { withHead } from '$lib/arrange/headText';
import { stepsOf } from '$lib/arrange/progression';
import { WISH_PARTS, type WishTexts } from '$lib/answers/wishParts';
import { guarded } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import {
  PROGRESSION_FORMAT,
  WITHOUT_TUNE,
  WITH_TUNE,
  progressionDocument,
} from '$lib/formats/progressionDocument';
import { fault } from '$lib/pieceFaults';
import { ok, refuse, type Result } from '$lib/result';
import { isRecord } from '$lib/setup/parsed';
import type { Kind } from './kind';
import { MOST_TUNE } from '$lib/formats/tuneBeside';
import {
  fromText,
  saidBy,
  shownText,
  textOf,
  tuneBeside,
  typed,
  type StoredProgression,
} from './piece';
import { changedBoth, readingOf, type Reading } from './reading';
import { mergeTexts } from './textMerge';
import { merge3, type Conflict, type Merged, type Three } from './threeWay';

export type { StoredProgression } from './piece';

const FORMATS: readonly unknown[] = [PROGRESSION_FORMAT, WITH_TUNE, WITHOUT_TUNE];
const A_PROGRESSION = 'a progression';
const MOST_CHARACTERS = 200_000;
const MOST_WISH = 20_000;
const MOST_TITLE = 200;
const MOST_ID = 100;
/** As many characters a character can become in the text of a file. */
const MOST_ESCAPED = 6;

function read(text: string): Result<StoredProgression, readonly DocumentFault[]> {
  if (text.length > MOST_CHARACTERS)
    return refuse([fault('text.tooLong', '', text.length, MOST_CHARACTERS)]);
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return refuse([fault('progression.notJson', '')]);
  }
  if (!isRecord(document)) return refuse([fault('progression.notAnObject', '')]);
  const { format, setup, chords, wishes = {}, tune, draft } = document;
  const faults: DocumentFault[] = [];
  if (!FORMATS.includes(format))
    faults.push(fault('progression.format', 'format', format, PROGRESSION_FORMAT));
  if (typeof setup !== 'string' || setup.length > MOST_ID)
    faults.push(fault('progression.setup', 'setup'));
  if (tune !== undefined && (typeof tune !== 'string' || tune.length > MOST_TUNE))
    faults.push(fault('progression.text', 'tune'));
  if (draft !== undefined && typeof draft !== 'string')
    faults.push(fault('progression.text', 'draft'));
  if (typeof chords !== 'string') faults.push(fault('progression.text', 'chords'));
  const found: { -readonly [part in keyof WishTexts]: string } = {};
  if (!isRecord(wishes)) faults.push(fault('progression.wishes', 'wishes'));
  else
    for (const part of WISH_PARTS) {
      const wish = Object.hasOwn(wishes, part) ? wishes[part] : undefined;
      if (wish === undefined) continue;
      if (typeof wish === 'string' && wish.length <= MOST_WISH) found[part] = wish;
      else faults.push(fault('progression.text', `wishes.${part}`));
    }
  if (faults.length > 0) return refuse(faults);
  const about = { setup: setup as string, wishes: wished(found) };
  const read = fromText(about, chords as string, tune as string | undefined);
  return ok(draft === undefined ? read : typed(read, draft as string));
}

/** In one order, without those that are empty: the same progression is the same text. */
const wished = (wishes: WishTexts): WishTexts =>
  Object.fromEntries(
    WISH_PARTS.flatMap((part) => {
      const text = wishes[part] ?? '';
      return text === '' ? [] : [[part, text]];
    }),
  );

/** A line of text, and no longer than a title may be. */
const asTitle = (name: string): string => name.replace(/\s+/gu, ' ').trim().slice(0, MOST_TITLE);

/** Whether it is so short that the reader would take it, whatever it says. */
function isShort({ setup, piece, wishes, draft = '' }: StoredProgression): boolean {
  const [text, tune] = [textOf(piece), tuneBeside(piece) ?? ''];
  const wished = Object.values(wishes).map((each) => each?.length ?? 0);
  const characters = wished.reduce(
    (sum, each) => sum + each,
    text.length + setup.length + tune.length + draft.length,
  );
  return (
    setup.length <= MOST_ID &&
    tune.length <= MOST_TUNE &&
    wished.every((each) => each <= MOST_WISH) &&
    // with what stands around them
    MOST_ESCAPED * characters + 1000 <= MOST_CHARACTERS
  );
}

/** The chords of a piece, whose numbers locks speak of. */
const chordsOf = (piece: StoredProgression): string =>
  stepsOf(saidBy(piece).progression)
    .map(({ chord }) => (chord === 'no chord' ? 'N.C.' : chord.symbol))
    .join(' ');

/** A place of which both say something else, as people read it. */
function tell(conflict: Conflict): Reading {
  const { path } = conflict;
  if (path === 'text') return readingOf('these measures', conflict);
  if (path === 'wishes.locks') return changedBoth('what is locked');
  return path === 'setup'
    ? changedBoth('the setup')
    : readingOf(`the preference “${path.replace('wishes.', '')}”`, conflict);
}

/** Wishes part by part, the text line by line and bar by bar. */
function merge({
  base,
  mine,
  theirs,
}: Three<StoredProgression>): Merged<StoredProgression, Reading> {
  const part = <K extends keyof StoredProgression>(key: K): Three<StoredProgression[K]> => ({
    base: base[key],
    mine: mine[key],
    theirs: theirs[key],
  });
  const setup = merge3(part('setup'), () => undefined, 'setup');
  const wishes = merge3(part('wishes'), () => undefined, 'wishes');
  const texts = { base: shownText(base), mine: shownText(mine), theirs: shownText(theirs) };
  const text = mergeTexts(texts);
  // notes and words are those of the side that has others than before, of both those of this one
  const changed = tuneBeside(mine.piece) === tuneBeside(base.piece) ? theirs : mine;
  const about = { setup: setup.value as string, wishes: wished(wishes.value as WishTexts) };
  const value = typed({ ...about, piece: changed.piece }, text.value);
  const conflicts = [...setup.conflicts, ...wishes.conflicts, ...text.conflicts];
  // one side locks chords by numbers that are others' on the other side
  const locked = [mine, theirs].some((side) => side.wishes.locks !== base.wishes.locks);
  const [was, ...now] = [base, mine, theirs].map(chordsOf);
  if (locked && texts.mine !== texts.theirs && now.some((chords) => chords !== was) && !sameSide())
    conflicts.push({ path: 'wishes.locks', mine: mine.wishes.locks, theirs: theirs.wishes.locks });
  return { value, conflicts: conflicts.map(tell) };

  /** Locks and chords were changed by one side alone. */
  function sameSide(): boolean {
    return [mine, theirs].some(
      (side) => side.wishes.locks === base.wishes.locks && shownText(side) === texts.base,
    );
  }
}

export const progressionKind: Kind<StoredProgression> = {
  kind: 'progression',
  read: (text) =>
    guarded(
      A_PROGRESSION,
      (senseless) => [senseless],
      () => read(text),
    ),
  write: ({ setup, piece, wishes, draft }) =>
    progressionDocument({
      ...{ setup, chords: textOf(piece), wishes: wished(wishes) },
      ...{ tune: tuneBeside(piece), draft },
    }),
  nameOf: ({ piece }) => piece.title ?? 'Without a title',
  named: ({ piece, draft, ...about }, name) => {
    const title = asTitle(name);
    const { title: _before, ...others } = piece;
    return {
      ...about,
      piece: title === '' ? others : { title, ...others },
      ...(draft === undefined ? {} : { draft: withHead(draft, 'title', title) }),
    };
  },
  isRead: isShort,
  merge,
};
