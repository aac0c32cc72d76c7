/** Edits of two tabs in the same instant. */
import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { addControl, removeControl, setId } from '$lib/setup/edits/controls';
import type { Edited } from '$lib/setup/edits/edited';
import { rename, setFigure, setNotes } from '$lib/setup/edits/figures';
import { setPull } from '$lib/setup/edits/pulls';
import { setControlFigure, setDrop } from '$lib/setup/edits/rigging';
import { addString, setOpen, setWire } from '$lib/setup/edits/strings';
import { setupText } from '$lib/setup/writeSetup';
import type { Setup } from '$lib/setup/setup';
import { setupKind } from '$lib/storage/kind';
import type { WishTexts } from '$lib/answers/wishParts';
import { readAbc } from '$lib/formats/read/abc';
import { fromText, shownText, typed } from '$lib/storage/piece';
import { progressionKind } from '$lib/storage/progressionKind';
import { DocumentSession } from '$lib/storage/documentSession';
import { mergeSetups } from '$lib/storage/setupMerge';
import { mergeTexts } from '$lib/storage/textMerge';
import { runs } from '../../battery';
import { freshBrowser, tab } from './tabs';

const must = (edited: Edited): Setup => {
  if (!edited.ok) throw new Error(edited.error);
  return edited.value;
};

/** Edits of different places of E9, each of which can be made with any other. */
const EDITS: Readonly<Record<string, (setup: Setup) => Edited>> = {
  name: (setup) => rename(setup, 'Mine'),
  notes: (setup) => setNotes(setup, 'new strings in May'),
  frets: (setup) => setFigure(setup, 'frets', '20'),
  scale: (setup) => setFigure(setup, 'scaleLengthMm', '600'),
  'open note of string 1': (setup) => setOpen(setup, 1, 1, 'F4'),
  'gauge of string 2': (setup) => setWire(setup, 1, 2, '15'),
  'A on string 9': (setup) => setPull(setup, { id: 'A', neck: 1, string: 9 }, '+1'),
  'A on string 4': (setup) => setPull(setup, { id: 'A', neck: 1, string: 4 }, '+1'),
  'B on string 4': (setup) => setPull(setup, { id: 'B', neck: 1, string: 4 }, '+1'),
  'A on string 5': (setup) => setPull(setup, { id: 'A', neck: 1, string: 5 }, '+1'),
  'no B on string 3': (setup) => setPull(setup, { id: 'B', neck: 1, string: 3 }, ''),
  'travel of C': (setup) => setControlFigure(setup, 'C', 'travelMm', '30'),
  'drop under C': (setup) => setDrop(setup, 'C', 1, 1, '2'),
  'C under another id': (setup) => setId(setup, 'C', 'Z'),
  'a pedal more': (setup) => addControl(setup, 'P4'),
};
const names = Object.keys(EDITS);
const made = (name: string, setup: Setup): Setup =>
  must((EDITS[name] as (s: Setup) => Edited)(setup));
/** Pulls and controls in an order of their own. */
const plain = (setup: Setup): unknown => {
  const by = <T>(list: readonly T[]): T[] =>
    list.toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  return {
    ...setup,
    controls: by(
      setup.controls.map((control) => ({
        ...control,
        pulls: by(control.pulls),
        drops: by(control.drops ?? []),
      })),
    ),
  };
};

describe('two edits of different places of a setup', () => {
  const base = builtIn('e9');
  const pairs = names.flatMap((mine, at) => names.slice(at + 1).map((theirs) => [mine, theirs]));
  // the rename speaks of C by another name than those which change C: it goes last
  const inTurn = (one: string, other: string): Setup =>
    one === 'C under another id' ? made(one, made(other, base)) : made(other, made(one, base));

  it.each(pairs)('%s and %s are both there, as if made in turn', (one = '', other = '') => {
    const expected = plain(inTurn(one, other));
    for (const [mine, theirs] of [
      [one, other],
      [other, one],
    ] as const) {
      const merged = mergeSetups({ base, mine: made(mine, base), theirs: made(theirs, base) });
      expect(merged.conflicts).toEqual([]);
      expect(plain(merged.value)).toEqual(expected);
    }
  });
});

describe('two edits of the same place', () => {
  const base = builtIn('e9');
  const cell = { id: 'A', neck: 1, string: 5 };
  it.each([
    ['one pull', setPull(base, cell, '+1'), setPull(base, cell, '+3')],
    ['the name', rename(base, 'Mine'), rename(base, 'Theirs')],
    [
      'a control that the other took away',
      setControlFigure(base, 'A', 'travelMm', '20'),
      removeControl(base, 'A'),
    ],
    [
      'the strings that the pulls are numbered by',
      setPull(base, cell, '+1'),
      addString(base, 1, 3),
    ],
  ])('(%s) is told, and what is done here stands', (_, here, there) => {
    const [mine, theirs] = [must(here), must(there)];
    const { value, conflicts } = mergeSetups({ base, mine, theirs });
    expect(conflicts).not.toEqual([]);
    expect(setupText(value)).toBe(setupText(mine));
  });

  it('whose strings are others still has what both did elsewhere', () => {
    const mine = must(addString(must(setFigure(base, 'frets', '20')), 1, 3));
    const theirs = must(setPull(must(rename(base, 'Theirs')), cell, '+1'));
    const { value, conflicts } = mergeSetups({ base, mine, theirs });
    expect(conflicts.map(({ place }) => place)).toEqual([
      'the strings, which pulls are numbered by',
    ]);
    expect(plain(value)).toEqual(plain({ ...mine, name: 'Theirs' }));
  });

  it('in the same way is no conflict', () => {
    const mine = must(rename(base, 'Same'));
    const merged = mergeSetups({ base, mine, theirs: must(rename(base, 'Same')) });
    expect(merged.conflicts).toEqual([]);
    expect(merged.value.name).toBe('Same');
  });
});

describe('the readings of a place are told as a player says them', () => {
  const base = builtIn('e9');
  const A5 = { id: 'A', neck: 1, string: 5 };
  it.each([
    [
      setPull(base, A5, '+1'),
      setPull(base, A5, ''),
      { place: 'A on string 5', mine: '+1', theirs: 'removed' },
    ],
    [
      setPull(base, { ...A5, string: 2 }, '+1/+2'),
      setPull(base, { ...A5, string: 2 }, '-1'),
      { place: 'A on string 2', mine: '+1/+2', theirs: '-1' },
    ],
    [
      rename(base, 'Mine'),
      rename(base, 'Theirs'),
      { place: 'name', mine: 'Mine', theirs: 'Theirs' },
    ],
    [
      setOpen(base, 1, 1, 'F4'),
      setOpen(base, 1, 1, 'G4'),
      { place: `${base.necks[0]?.name ?? ''}, string 1, open note`, mine: 'F4', theirs: 'G4' },
    ],
    [
      setControlFigure(base, 'A', 'travelMm', '20'),
      removeControl(base, 'A'),
      { place: 'A', mine: 'changed here', theirs: 'removed' },
    ],
    [
      setPull(base, A5, '+1'),
      addString(base, 1, 3),
      {
        place: 'the strings, which pulls are numbered by',
        mine: 'changed here',
        theirs: 'changed there',
      },
    ],
    [
      setNotes(base, 'x'.repeat(200)),
      setNotes(base, 'two\nlines'),
      { place: 'notes', mine: `${'x'.repeat(59)}…`, theirs: 'two lines' },
    ],
  ])('%#', (here, there, reading) => {
    const [mine, theirs] = [must(here), must(there)];
    const { conflicts } = mergeSetups({ base, mine, theirs });
    expect(conflicts).toEqual([reading]);
  });

  it('of a piece, measure by measure', () => {
    const piece = (text: string, frets = '') => fromText({ setup: 'e9', wishes: { frets } }, text);
    const { conflicts } = progressionKind.merge?.({
      base: piece('G | C | D7'),
      mine: piece('G | F | D7', '1-9'),
      theirs: piece('G | Am7 | D7', '3-5'),
    }) ?? { conflicts: [] };
    expect(conflicts).toEqual([
      { place: 'the preference “frets”', mine: '1-9', theirs: '3-5' },
      { place: 'these measures', mine: 'F', theirs: 'Am7' },
    ]);
  });
});

describe('two edits of a text', () => {
  const base = 'title: Shed\nG | C | D7\nEm | Am | D7';
  it.each([
    [
      'title: Barn\nG | C | D7\nEm | Am | D7',
      'title: Shed\nG | C | D7\nEm | Am | G',
      'title: Barn\nG | C | D7\nEm | Am | G',
    ],
    // bars of one line
    [
      'title: Shed\nA | C | D7\nEm | Am | D7',
      'title: Shed\nG | C | E7\nEm | Am | D7',
      'title: Shed\nA | C | E7\nEm | Am | D7',
    ],
    // a line more at the end, and one at the beginning
    [`${base}\nG`, `key: G\n${base}`, `key: G\n${base}\nG`],
    // a bar more, and another bar changed
    [
      'title: Shed\nG | C | D7 | D7\nEm | Am | D7',
      'title: Shed\nE | C | D7\nEm | Am | D7',
      'title: Shed\nE | C | D7 | D7\nEm | Am | D7',
    ],
  ])('of different lines or bars are both there', (mine, theirs, both) => {
    expect(mergeTexts({ base, mine, theirs })).toEqual({ value: both, conflicts: [] });
    expect(mergeTexts({ base, mine: theirs, theirs: mine })).toEqual({
      value: both,
      conflicts: [],
    });
  });

  it('of the same bar are told, and what is done here stands', () => {
    const mine = base.replace('C', 'F');
    const merged = mergeTexts({ base, mine, theirs: base.replace('C', 'A') });
    expect(merged.value).toBe(mine);
    expect(merged.conflicts).toHaveLength(1);
  });

  it('of which one changes nothing are the other one', () => {
    const lines = fc.array(fc.constantFrom('G', 'C', 'D7', 'Em | Am', '')).map((l) => l.join('\n'));
    fc.assert(
      fc.property(lines, lines, (was, is) => {
        expect(mergeTexts({ base: was, mine: is, theirs: was })).toEqual({
          value: is,
          conflicts: [],
        });
        expect(mergeTexts({ base: was, mine: was, theirs: is })).toEqual({
          value: is,
          conflicts: [],
        });
        expect(mergeTexts({ base: was, mine: is, theirs: is })).toEqual({
          value: is,
          conflicts: [],
        });
      }),
      { numRuns: runs(300) },
    );
  });
});

describe('two edits of a piece', () => {
  interface Said {
    readonly setup: string;
    readonly text: string;
    readonly wishes: WishTexts;
  }
  const base: Said = { setup: 'e9', text: 'G | C | D7', wishes: { frets: '1-12' } };
  const piece = ({ text, ...about }: Said) => fromText(about, text);
  const merge = (mine: Said, theirs: Said) => {
    const merged = progressionKind.merge?.({
      base: piece(base),
      mine: piece(mine),
      theirs: piece(theirs),
    });
    if (merged === undefined) throw new Error('it is merged');
    const { setup, wishes } = merged.value;
    return {
      value: { setup, text: shownText(merged.value), wishes },
      conflicts: merged.conflicts,
    };
  };

  it('of a wish and the text, and of two wishes, are both there', () => {
    expect(merge({ ...base, text: 'G | C | G' }, { ...base, wishes: { frets: '3-9' } })).toEqual({
      value: { setup: 'e9', text: 'G | C | G', wishes: { frets: '3-9' } },
      conflicts: [],
    });
    const merged = merge(
      { ...base, wishes: { ...base.wishes, locks: '1=fret:3' } },
      { ...base, setup: 'c6', wishes: { frets: '3-9' } },
    );
    expect(merged).toEqual({
      value: { setup: 'c6', text: base.text, wishes: { frets: '3-9', locks: '1=fret:3' } },
      conflicts: [],
    });
  });

  it('keeps the notes of a tune that one side did not touch, and a draft of the other', () => {
    const read = readAbc('X:1\nT:Air\nM:4/4\nL:1/4\nK:C\n"C"c d e2|"F"f4|"G7"g4|"C"c4|\n');
    if (!read.ok) throw new Error('a tune was expected');
    const { piece: air } = read.value;
    const was = { setup: 'e9', wishes: {}, piece: air };
    const mine = typed(was, shownText(was).replace('F:F5', 'Dm'));
    const theirs = { ...was, wishes: { frets: '1-9' } };
    const merged = progressionKind.merge?.({ base: was, mine, theirs });
    expect(merged?.conflicts).toEqual([]);
    expect(merged?.value.piece.measures.map(({ notes }) => notes.length)).toEqual([3, 0, 1, 1]);
    const half = typed(was, `${shownText(was)} | Hx`);
    const drafted = progressionKind.merge?.({ base: was, mine: half, theirs });
    expect(drafted?.value).toMatchObject({
      piece: air,
      draft: half.draft,
      wishes: { frets: '1-9' },
    });
  });

  it('of a lock and the chords it is numbered by are told', () => {
    const locked = { ...base, wishes: { ...base.wishes, locks: '2=fret:3' } };
    const merged = merge(locked, { ...base, text: 'Em | G | C | D7' });
    expect(merged.conflicts.map(({ place }) => place)).toEqual(['what is locked']);
  });
});

describe('two tabs with one setup', () => {
  beforeEach(freshBrowser);
  const opened = async (deaf = true): Promise<DocumentSession<Setup>> => {
    const store = tab({ deaf });
    const loaded = await store.load('s');
    if (!loaded.ok || loaded.value === undefined) throw new Error('it is not kept');
    const session = DocumentSession.of(store, setupKind, loaded.value);
    if (!session.ok) throw new Error('it cannot be read');
    return session.value;
  };
  beforeEach(async () => {
    const begun = DocumentSession.begin(tab(), setupKind, 's', builtIn('e9'), 'made');
    if (begun.ok) await begun.value.settled();
  });

  it('in the same instant: different cells are both there, each a step of its own', async () => {
    const [here, there] = [await opened(), await opened()];
    for (const [session, name] of [
      [here, 'A on string 5'],
      [there, 'B on string 4'],
    ] as const)
      session.edit(made(name, session.state.value), name);
    await Promise.all([here.settled(), there.settled()]);
    const later = await opened();
    expect(plain(later.state.value)).toEqual(
      plain(made('A on string 5', made('B on string 4', builtIn('e9')))),
    );
    expect(`${here.state.notice ?? ''}${there.state.notice ?? ''}`).toMatch(
      /^Another tab changed this at the same moment too \([AB] on string \d\)\. Both changes are here\.$/,
    );
    later.undo();
    later.undo();
    expect(setupText(later.state.value)).toBe(setupText(builtIn('e9')));
  });

  it('that write the same cell keep both: one is shown, the other a version', async () => {
    const [here, there] = [await opened(), await opened()];
    const cell = { id: 'A', neck: 1, string: 5 };
    here.edit(must(setPull(here.state.value, cell, '+1')), 'A on string 5');
    await here.settled();
    there.edit(must(setPull(there.state.value, cell, '+3')), 'A on string 5');
    await there.settled();
    expect(there.state.asks).toEqual({
      label: 'A on string 5',
      places: [{ place: 'A on string 5', mine: '+3', theirs: '+1' }],
    });
    const later = await opened();
    const semitones = (): number | undefined =>
      later.state.value.controls[0]?.pulls.find(({ string }) => string === 5)?.semitones;
    expect(semitones()).toBe(3);
    expect(later.state.versions.map(({ name }) => name)).toEqual([
      'another tab: A on string 5 (+1)',
      'one tab: A on string 5 (+3)',
    ]);
    for (const [at, sounds] of [1, 3].entries()) {
      later.restore(later.state.versions[at]?.step ?? 0, 'it');
      expect(semitones()).toBe(sounds);
    }
  });

  it('that are asked keep what both did elsewhere, whichever reading is taken', async () => {
    const [here, there] = [await opened(), await opened()];
    const cell = { id: 'A', neck: 1, string: 5 };
    here.edit(must(setPull(here.state.value, cell, '+1')), 'A on string 5');
    here.edit(made('frets', here.state.value), 'frets');
    await here.settled();
    there.edit(must(setPull(there.state.value, cell, '+3')), 'A on string 5');
    there.edit(made('B on string 4', there.state.value), 'B on string 4');
    await there.settled();
    // an edit after the question, of another place and of the same
    there.edit(made('scale', there.state.value), 'scale');
    there.edit(must(setPull(there.state.value, cell, '-1')), 'A on string 5');
    expect(there.state.asks?.places).toEqual([
      { place: 'A on string 5', mine: '-1', theirs: '+1' },
    ]);
    const elsewhere = made('scale', made('B on string 4', made('frets', builtIn('e9'))));
    expect(plain(there.state.value)).toEqual(plain(must(setPull(elsewhere, cell, '-1'))));
    there.settle('theirs');
    expect(plain(there.state.value)).toEqual(plain(must(setPull(elsewhere, cell, '+1'))));
    there.undo();
    expect(plain(there.state.value)).toEqual(plain(must(setPull(elsewhere, cell, '-1'))));
    await there.settled();
    expect(plain((await opened()).state.value)).toEqual(plain(there.state.value));
  });

  it('lose no edit of different places, in whatever order they write', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(names, { minLength: 2, maxLength: 6 }),
        fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
        fc.infiniteStream(fc.boolean()),
        async (edits, sides, waits) => {
          freshBrowser();
          const begun = DocumentSession.begin(tab(), setupKind, 's', builtIn('e9'), 'made');
          if (begun.ok) await begun.value.settled();
          const tabs = [await opened(false), await opened(false)] as const;
          // the rename goes last, for others speak of C by its name
          const order = edits.toSorted((a) => (a === 'C under another id' ? 1 : -1));
          for (const [at, name] of order.entries()) {
            const session = tabs[sides[at] === true ? 0 : 1];
            session.edit(made(name, session.state.value), name);
            if (waits.next().value === true) await session.settled();
          }
          for (const session of [...tabs, ...tabs]) {
            await session.settled();
            await session.tryAgain();
          }
          const expected = plain(order.reduce((setup, name) => made(name, setup), builtIn('e9')));
          for (const session of [...tabs, await opened()])
            expect(plain(session.state.value)).toEqual(expected);
        },
      ),
      { numRuns: runs(25) },
    );
  });
});
