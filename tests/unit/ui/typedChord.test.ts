/** Typing a chord asks where it lies. */
import { describe, expect, it } from 'vitest';
import { ok, type Result } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { Explore } from '$lib/ui/explore/explore.svelte';
import { HOME } from '$lib/ui/explore/address';
import { find, type Findings } from '$lib/answers/explore';
import { exploring, nameOf } from './exploring';

describe('a typed chord', () => {
  it('is found, its easiest voicing held and named, and the address says it', async () => {
    const page = await exploring();
    await page.explore.change({ chord: 'C#m7' });
    expect(page.explore.found?.symbol).toBe('C#m7');
    expect(page.explore.list.selected).toEqual({ position: 0, row: 0 });
    const least = Math.min(...page.allRows.map(({ effort }) => effort));
    expect(page.explore.list.row?.effort.total).toBe(least);
    expect(page.current).toBe(page.names[0]);
    expect(page.heard).toMatchObject({ name: 'C♯m7', spoken: 'C sharp minor seventh' });
    expect(page.written).toEqual([{ text: 'chord=C%23m7', entry: 'new' }]);
  });

  it.each(['C♯m7', 'C#m7', 'c#m7', 'C♯−7'])('%s is C sharp minor seventh', async (symbol) => {
    const page = await exploring();
    await page.explore.change({ chord: symbol });
    expect(page.heard.spoken).toBe('C sharp minor seventh');
    // C♯ minor seventh is C♯ E G♯ B: nothing else sounds in any row
    const notes = page.allRows.flatMap((row) => row.notes.map(nameOf));
    expect(new Set(notes)).toEqual(new Set(['C♯', 'E', 'G♯', 'B']));
  });

  // Common practice on E9, fret f: A is C♯ minor + f; LKR is G♯ minor + f; B+LKR is B7 + f; with
  // nothing pressed string 9 makes E7 + f. All of them at fret 3.
  it.each([
    ['Em', 'Fret 3, A, strings'],
    ['Bm', 'Fret 3, LKR, strings'],
    ['D7', 'Fret 3, B and LKR, strings'],
    ['G7', 'Fret 3, nothing engaged, strings'],
  ])('%s lies where players know it: %s', async (symbol, row) => {
    const page = await exploring();
    await page.explore.change({ chord: symbol });
    expect(page.explore.found?.symbol).toBe(symbol);
    expect(page.names.filter((name) => name.startsWith(row))).not.toEqual([]);
  });

  it('N.C. is no chord, which is said, and the last answer stays', async () => {
    const page = await exploring();
    const before = page.names;
    await page.explore.change({ chord: 'N.C.' });
    expect(page.fault('chord')).toMatch(/no chord/);
    expect(page.names).toEqual(before);
    expect(before.length).toBeGreaterThan(0);
  });

  it('an emptied field is asked for a chord, and the last answer stays', async () => {
    const page = await exploring();
    const before = page.names;
    await page.explore.change({ chord: '' });
    expect(page.fault('chord')).toBe(
      'There is no chord to read: a chord begins with a letter from A to G.',
    );
    expect(page.names).toEqual(before);
    expect(page.explore.found?.symbol).toBe('C');
  });

  it('in another notation is refused with what it likely means, one tap away', async () => {
    const page = await exploring();
    const before = page.names;
    await page.explore.change({ chord: 'Es7' });
    expect(page.fault('chord')).toMatch(/It is written the German way\. Did you mean E♭7\?$/);
    expect(page.explore.faults[0]?.meant).toEqual(['Eb7']);
    expect(page.names).toEqual(before);
    // without a key a degree counts from C, whose fifth is G
    await page.explore.change({ chord: 'V7' });
    expect(page.explore.faults[0]?.meant).toEqual(['G7']);
  });

  it('as a degree is read where a key is set', async () => {
    const page = await exploring();
    // the fifth degree of A is E
    await page.explore.change({ chord: 'V7', key: 'A' });
    expect(page.explore.faults).toEqual([]);
    expect(page.explore.found?.symbol).toBe('E7');
    // a bare 2 is minor to one and major to another
    await page.explore.change({ chord: '2', key: 'A' });
    expect(page.explore.faults[0]?.meant).toEqual(['Bm', 'B']);
  });

  it('typed as notes is named, and found with exactly these pitch classes', async () => {
    const page = await exploring();
    await page.explore.change({ chord: 'C E G C' });
    expect(page.explore.found?.symbol).toBe('C');
    expect(page.heard.name).toBe('C');
    expect(page.allRows.length).toBeGreaterThan(10);
    for (const row of page.allRows)
      expect(new Set(row.notes.map(nameOf))).toEqual(new Set(['C', 'E', 'G']));
    // a thirteenth without its fifth and ninth is looked for without them
    await page.explore.change({ chord: 'F B E G' });
    expect(page.explore.found?.symbol).toBe('G13(no5,no9)');
    for (const row of page.allRows)
      expect(new Set(row.notes.map(nameOf))).toEqual(new Set(['F', 'B', 'E', 'G']));
  });

  it('typed as notes with octaves is found at exactly these pitches', async () => {
    const page = await exploring();
    await page.explore.change({ chord: 'C4 E4 Bb4 D5' });
    expect(page.explore.found?.symbol).toBe('C9(no5)');
    expect(page.allRows.length).toBeGreaterThan(0);
    for (const row of page.allRows)
      expect([...row.notes].sort()).toEqual(['B♭4', 'C4', 'D5', 'E4']);
    // two notes lie on two strings
    await page.explore.change({ chord: 'G4 E5' });
    expect(page.heard.name).toBe('C(no1)/G');
    for (const row of page.allRows) expect([...row.notes].sort()).toEqual(['E5', 'G4']);
    expect(page.allRows.length).toBeGreaterThan(0);
  });

  it('that cannot be read is marked at the place, with a sentence, and the last answer stays', async () => {
    const page = await exploring();
    const before = page.names;
    await page.explore.change({ chord: 'Cmaj7zz' });
    const [fault] = page.explore.faults;
    expect(page.explore.faults).toHaveLength(1);
    const { at = 0, length = 0 } = fault?.mark ?? {};
    expect('Cmaj7zz'.slice(at, at + length)).toMatch(/^zz?$/);
    expect(page.fault('chord')).toMatch(/^“Cmaj7zz”: “zz?” at place 6 is not understood; /);
    expect(page.explore.found?.symbol).toBe('C');
    expect(page.explore.busy).toBe(false);
    expect(page.names).toEqual(before);

    await page.explore.change({ chord: 'Cmaj7' });
    expect(page.explore.faults).toEqual([]);
    expect(page.explore.found?.symbol).toBe('Cmaj7');
    expect(page.names).not.toEqual(before);
  });
});

describe('letters on the way', () => {
  /** A search whose answers come when they are let, the one asked first last. */
  function slow() {
    const waiting: (() => void)[] = [];
    const explore = new Explore(
      {
        ask: (setup, question, most) =>
          new Promise<Result<Findings, string>>((done) => {
            waiting.unshift(() => done(find(setup, question, most).then(ok)));
          }),
        more: () => Promise.resolve(ok([])),
      },
      { get: () => builtIn('e9'), find: () => Promise.resolve(builtIn('e9')), unknown: (id) => id },
      () => undefined,
    );
    return { explore, waiting };
  }

  it('the chord in the field is answered, however late the answers of its beginnings are', async () => {
    const { explore, waiting } = slow();
    const asked = ['F', 'F#', 'F#m', 'F#m7', 'F#m7b', 'F#m7b5'].map((chord) =>
      explore.change({ chord }),
    );
    // “F#m7b” is no chord yet: five questions
    expect(waiting).toHaveLength(5);
    expect(explore.busy).toBe(true);
    for (const answer of waiting) {
      answer();
      await Promise.resolve();
    }
    await Promise.all(asked);
    expect(explore.busy).toBe(false);
    expect(explore.found?.symbol).toBe('F#m7b5');
    // F♯ half-diminished is F♯ A C E: chromas 6, 9, 0, 4
    const rows = explore.list.findings?.positions.flat() ?? [];
    const chromas = rows.flatMap(({ voicing }) => voicing.pitches.map((midi) => midi % 12));
    expect(new Set(chromas)).toEqual(new Set([6, 9, 0, 4]));
  });

  it('an answer that comes after a fault in the field is nobody’s', async () => {
    const { explore, waiting } = slow();
    const opened = explore.open(HOME);
    waiting.shift()?.();
    await opened;
    const asked = explore.change({ chord: 'F' });
    const faulty = explore.change({ chord: 'Fq' });
    waiting.shift()?.();
    await Promise.all([asked, faulty]);
    expect(explore.found?.symbol).toBe('C');
    expect(explore.faults).toHaveLength(1);
    expect(explore.busy).toBe(false);
  });

  /** A page that has its first answer, with the bar laid where no row of the next chord is. */
  async function held() {
    const { explore, waiting } = slow();
    const opened = explore.open(HOME);
    waiting.shift()?.();
    await opened;
    explore.moveBar(1);
    return { explore, waiting };
  }

  it('a key typed before the chord’s answer leaves the chord its first row on the table', async () => {
    const { explore, waiting } = await held();
    const asked = [explore.change({ chord: 'Am7' }), explore.change({ key: 'G' })];
    for (const answer of waiting) answer();
    await Promise.all(asked);
    expect(explore.found?.symbol).toBe('Am7');
    expect(explore.list.selected).toEqual({ position: 0, row: 0 });
    expect(explore.hold.fret).toBe(explore.list.row?.voicing.fret);
    // once it lies there, another key leaves it be
    explore.moveBar(1);
    const again = explore.change({ key: 'D' });
    waiting[0]?.();
    await again;
    expect(explore.hold.fret).toBe(1);
  });

  it('so does a key that cannot be read at first', async () => {
    const { explore, waiting } = await held();
    const asked = ['H', 'G'].map((key, at) =>
      explore.change(at === 0 ? { chord: 'Am7', key } : { key }),
    );
    for (const answer of waiting) answer();
    await Promise.all(asked);
    expect(explore.list.selected).toEqual({ position: 0, row: 0 });
  });

  it('so does an edit of the setup in another tab', async () => {
    const { explore, waiting } = await held();
    const asked = [
      explore.change({ chord: 'Am7' }),
      explore.follow({ ...builtIn('e9'), name: 'Edited' }),
    ];
    for (const answer of waiting) answer();
    await Promise.all(asked);
    expect(explore.list.selected).toEqual({ position: 0, row: 0 });
  });
});

describe('the key', () => {
  it('spells what sounds, and leaves what is held in the hands', async () => {
    // Nothing pressed at fret 4 is E + 4: in E♭ that is A♭ major, in E it is G♯ major; string 5,
    // B + 4, is the lowest.
    const page = await exploring();
    page.explore.moveBar(4);
    await page.explore.change({ key: 'Eb' });
    expect(page.heard.spoken).toBe('A flat major over E flat');
    await page.explore.change({ key: 'E' });
    expect(page.heard.spoken).toBe('G sharp major over D sharp');
    expect(page.explore.hold).toMatchObject({ fret: 4, engaged: [], strings: [3, 4, 5] });
  });

  it('that cannot be read is told, and the rows stay', async () => {
    const page = await exploring();
    const before = page.names;
    await page.explore.change({ key: 'H' });
    expect(page.fault('key')).toBe(
      'Key: found “H”; allowed is a key such as Eb or F#m; it is written the German way, whose B is B♭ here, and may mean B.',
    );
    expect(page.names).toEqual(before);
    expect(before.length).toBeGreaterThan(0);
  });
});
