/** Progression's state: what is written, wished, found, locked and turned down, with no worker between. */
import { beforeEach, describe, expect, it } from 'vitest';
import { refuse, type Result } from '$lib/result';
import { fromText, shownText } from '$lib/storage/piece';
import { readProgression } from '$lib/arrange/readText';
import type { ArrangedStep, Arrangement } from '$lib/arrange/arrange';
import { placePhrase } from '$lib/answers/phrases';
import { parseKey } from '$lib/theory/spelling';
import { builtIn, isBuiltInId } from '$lib/setup/builtIns';
import type { Entry } from '$lib/ui/kit/addressBar';
import {
  progressionAddressText,
  readProgressionAddress,
  tuningQuery,
} from '$lib/ui/arrange/address';
import { ProgressionState, type Arranging, type Shelf } from '$lib/ui/arrange/progression.svelte';
import { cardsOf, type CardView } from '$lib/ui/arrange/stripView';
import { arranging } from './answering';
import { newBrowser } from './tabs';

beforeEach(newBrowser);

const SHELF: Shelf = {
  find: (id) => Promise.resolve(isBuiltInId(id) ? builtIn(id) : undefined),
  unknown: (id) => `There is no setup “${id}”.`,
};

function page(worker: Arranging = arranging()) {
  const written: { text: string; entry: Entry }[] = [];
  const state = new ProgressionState(worker, SHELF, (address, entry) =>
    written.push({ text: progressionAddressText(address), entry }),
  );
  return { state, written };
}
const address = (chords: string, more = ''): string =>
  `chords=${encodeURIComponent(chords)}${more}`;
async function opened(text: string) {
  const made = page();
  await made.state.open(readProgressionAddress(new URLSearchParams(text)));
  return made;
}
/** The cards of the way on show. */
function cards({ answered, way }: ProgressionState): CardView[] {
  if (answered === undefined || way === undefined) return [];
  return way.steps.map(cardsOf(answered.setup, answered.progression, way));
}
const symbols = ({ way }: ProgressionState): string[] =>
  way?.steps.map(({ chord }) => chord.symbol) ?? [];
function stepAt({ way }: ProgressionState, index: number): ArrangedStep {
  const step = way?.steps.find((each) => each.index === index);
  if (step === undefined) throw new Error(`chord ${index} is not played`);
  return step;
}
const heldAt = (state: ProgressionState, index: number): string => {
  const { fret, engaged, strings } = stepAt(state, index).hold;
  return `${fret}/${engaged.map(({ id }) => id).join()}/${strings.join('-')}`;
};

describe('a piece', () => {
  it('one, four, one at one fret: nothing, A and B, nothing, with the bar still', async () => {
    // common practice on E9: at fret 3, G is there with nothing pressed and C under A and B
    const { state } = await opened(address('G | C | G', '&home=3'));
    expect(cards(state).map(({ fret, controls }) => [fret, controls])).toEqual([
      ['3', '–'],
      ['3', 'A+B'],
      ['3', '–'],
    ]);
    expect(cards(state).map(({ move }) => move)).toEqual([
      '',
      'bar stays: press A and B',
      'bar stays: release A and B',
    ]);
  });

  it('is told what cannot be read in it, and the rest is taken', async () => {
    const { state, written } = await opened(address('G | C'));
    await state.write('G | Hx | C', 'new');
    expect(state.read.faults.map(({ where, found }) => `${where}: ${found}`)).toEqual([
      'line 1, place 5: “Hx”',
    ]);
    expect(symbols(state)).toEqual(['G', 'C']);
    expect(state.way?.steps.map(({ index }) => index)).toEqual([0, 2]);
    expect(written).toEqual([{ text: 'chords=G+%7C+Hx+%7C+C', entry: 'new' }]);
  });

  it('that is half typed stays what it was, with a draft beside it', async () => {
    const { state } = await opened(address('G | C'));
    const { piece } = state.asked;
    await state.write('G | C | D7s', 'same');
    expect(state.isUnfinished).toBe(true);
    expect(state.asked.piece).toBe(piece);
    expect(state.text).toBe('G | C | D7s');
    await state.write('G | C | D7sus4', 'same');
    expect(state.isUnfinished).toBe(false);
    expect(state.asked.piece.measures).toHaveLength(3);
  });

  it('shows letters as they are typed, and when the field is left what they say', async () => {
    const { state } = await opened(address('G | C'));
    await state.write('G|C . / F||', 'same');
    expect(state.text).toBe('G|C . / F||');
    state.settle();
    expect(state.text).toBe('G | C . . F');
    expect(state.isBehind).toBe(false);
  });

  it('without a chord finds nothing, and nothing fails', async () => {
    const { state } = await opened(address('G | C'));
    await state.write('', 'same');
    expect(state.answered).toBeUndefined();
    expect(state.failure).toBeUndefined();
    expect(state.ways).toEqual([]);
    await state.write('D7', 'same');
    expect(symbols(state)).toEqual(['D7']);
  });

  it('is moved by semitones as a whole, and comes back from its address', async () => {
    const { state, written } = await opened(address('key: G\nG | C | D7'));
    await state.transpose(1);
    expect(state.text).toContain('Ab | Db | Eb7');
    expect(state.text).toContain('key: Ab');
    expect(symbols(state)).toEqual(['Ab', 'Db', 'Eb7']);
    expect(cards(state)[0]?.symbol).toBe('A♭');
    const { state: again } = await opened(written.at(-1)?.text ?? '');
    expect(again.text).toBe(state.text);
    expect(cards(again)).toEqual(cards(state));
  });

  it('has one chord more behind its last, held as it was found', async () => {
    const { state, written } = await opened(address('G | C', '&locks=1%3Dfret:3'));
    await state.append({ symbol: 'D7', hold: '3/B,LKR/3-4-5' });
    expect(state.text).toBe('G | C | D7');
    expect(heldAt(state, 2)).toBe('3/B,LKR/3-4-5');
    expect([0, 1, 2].map((index) => state.lockOf(index))).toEqual(['fret', 'free', 'hold']);
    expect(written.at(-1)?.entry).toBe('same');
    await state.append({ symbol: 'G', hold: '' });
    expect(state.lockOf(3)).toBe('free');
    expect(symbols(state)).toEqual(['G', 'C', 'D7', 'G']);
  });

  it('too long for an address is remembered for the tab, and named in the address', () => {
    const long = `title: Long way home\n${'Gmaj7 | Cmaj7 | '.repeat(300)}D`;
    expect(long.length).toBeGreaterThan(4000);
    const text = progressionAddressText(fromText({ setup: 'e9', wishes: { frets: '0-9' } }, long));
    expect(text).toMatch(/^long-text=[\da-z]+&frets=0-9$/u);
    expect(shownText(readProgressionAddress(new URLSearchParams(text)))).toBe(long);
    // Back leads to what was there, not to what was remembered last
    const longer = fromText({ setup: 'e9', wishes: {} }, `${long} | G`);
    expect(progressionAddressText(longer)).not.toContain(text.split('&')[0]);
    expect(shownText(readProgressionAddress(new URLSearchParams(text)))).toBe(long);
    // another tab has not got it
    newBrowser();
    expect(shownText(readProgressionAddress(new URLSearchParams(text)))).toContain(
      'title: Three places at one fret',
    );
    const short = long.slice(0, long.lastIndexOf(' | ', 4000));
    const written = progressionAddressText(fromText({ setup: 'e9', wishes: {} }, short));
    expect(new URLSearchParams(written).get('chords')).toBe(short);
  });

  it('is tuned for: each of its chords once, no more than two dozen', async () => {
    const { state } = await opened(address('G | C | N.C. | G | D7 | C'));
    const query = new URLSearchParams(tuningQuery('e9', state.read.progression));
    expect(query.get('chords')).toBe('G C D7');
    const many = readProgression(
      'C Db D Eb E F Gb G Ab A Bb B Cm Dbm Dm Ebm Em Fm Gbm Gm Abm Am Bbm Bm C7 Db7',
    ).progression;
    expect(new URLSearchParams(tuningQuery('e9', many)).get('chords')?.split(' ')).toHaveLength(24);
  });
});

describe('wishes', () => {
  it('that cannot be read are told, and the last answer stays', async () => {
    const { state, written } = await opened(address('G | C'));
    const { answered } = state;
    await state.wish('frets', 'low');
    expect(state.wishFaults).toEqual([
      {
        part: 'frets',
        words: 'found “low”; allowed is a fret or a range such as 3-8, within 0-24.',
      },
    ]);
    expect(state.answered).toBe(answered);
    expect(state.busy).toBe(false);
    expect(written.at(-1)?.text).toBe('chords=G+%7C+C&frets=low');
    await state.wish('frets', '8-15');
    expect(state.wishFaults).toEqual([]);
    for (const { hold } of state.way?.steps ?? []) expect(hold.fret).toBeGreaterThanOrEqual(8);
  });

  it('give the best ways in order, the best on show; of near-copies one stands for all', async () => {
    const { state } = await opened(address('G | C | D7 | G'));
    expect(state.ways).toHaveLength(8);
    const totals = state.ways.map(({ total }) => total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
    const standing = state.different.flatMap(({ index, copies }) => [index, ...copies]);
    expect(standing.sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    state.chosen = 3;
    expect(state.way).toBe(state.ways[3]);
    // another answer begins with its best again
    await state.wish('avoid', '8-9-10');
    expect(state.chosen).toBe(0);
  });

  it('go to another setup along with the text, locks do not', async () => {
    const { state, written } = await opened(address('G | C', '&sizes=3-3&locks=1%3Dhold:3//3-4-5'));
    expect(state.lockOf(0)).toBe('hold');
    await state.choose('universal12');
    expect(state.locks.size).toBe(0);
    expect(state.wishTexts).toMatchObject({ sizes: '3-3', locks: '' });
    expect(written.at(-1)?.text).toBe('setup=universal12&chords=G+%7C+C&sizes=3-3');
    expect(state.answered?.setup).toBe(builtIn('universal12'));
  });
});

describe('single chords', () => {
  it('of a repeat are kept, turned down and freed in all passes, whichever of them is on show', async () => {
    const { state } = await opened(address('|: G | C :|'));
    const first = heldAt(state, 1);
    expect(heldAt(state, 3)).toBe(first);
    await state.otherwise(stepAt(state, 3));
    const second = heldAt(state, 1);
    await state.otherwise(stepAt(state, 1));
    // what was turned down in one pass and in the other does not come back
    expect([first, second]).not.toContain(heldAt(state, 1));
    expect(heldAt(state, 3)).toBe(heldAt(state, 1));
    expect([1, 3].map((index) => state.turnedDown(index))).toEqual([2, 2]);
    await state.lock(stepAt(state, 1), 'hold');
    expect([1, 3].map((index) => state.lockOf(index))).toEqual(['hold', 'hold']);
    const kept = heldAt(state, 3);
    await state.otherwise(stepAt(state, 3));
    expect(heldAt(state, 1)).not.toBe(kept);
    expect([1, 3].map((index) => state.lockOf(index))).toEqual(['free', 'free']);
  });

  it('another way is another way; a fret that is kept stays while the rest is found anew', async () => {
    const { state, written } = await opened(address('G | C | G', '&home=3'));
    const first = heldAt(state, 1);
    await state.otherwise(stepAt(state, 1));
    const second = heldAt(state, 1);
    expect(second).not.toBe(first);
    expect(state.turnedDown(1)).toBe(1);
    await state.otherwise(stepAt(state, 1));
    expect([first, second]).not.toContain(heldAt(state, 1));
    expect(state.turnedDown(1)).toBe(2);
    expect(symbols(state)).toEqual(['G', 'C', 'G']);

    const { fret } = stepAt(state, 1).hold;
    await state.lock(stepAt(state, 1), 'fret');
    expect(state.lockOf(1)).toBe('fret');
    expect(written.at(-1)?.text).toContain(`locks=2%3Dfret%3A${fret}`);
    await state.wish('avoid', '8-9-10');
    expect(stepAt(state, 1).hold.fret).toBe(fret);
    expect(state.lockOf(1)).toBe('fret');
  });

  it('a voicing, a fret or a top note is kept; freed, what was turned down can come again', async () => {
    const { state } = await opened(address('G | C | G', '&home=3'));
    const first = heldAt(state, 1);
    await state.otherwise(stepAt(state, 1));
    await state.lock(stepAt(state, 1), 'hold');
    const kept = heldAt(state, 1);
    await state.wish('home', '15');
    expect(heldAt(state, 1)).toBe(kept);
    const top = Math.max(...stepAt(state, 1).voicing.pitches);
    await state.lock(stepAt(state, 1), 'top');
    expect(state.lockOf(1)).toBe('top');
    expect(Math.max(...stepAt(state, 1).voicing.pitches)).toBe(top);
    await state.wish('home', '3');
    await state.lock(stepAt(state, 1), 'free');
    expect(state.lockOf(1)).toBe('free');
    expect(state.turnedDown(1)).toBe(0);
    expect(heldAt(state, 1)).toBe(first);
  });

  it('another way of one that is kept frees it', async () => {
    const { state } = await opened(address('G | C', '&locks=2%3Dhold:3/A,B/3-4-5'));
    expect(heldAt(state, 1)).toBe('3/A,B/3-4-5');
    await state.otherwise(stepAt(state, 1));
    expect(state.lockOf(1)).toBe('free');
    expect(heldAt(state, 1)).not.toBe('3/A,B/3-4-5');
  });

  it('what was said of a chord goes along with it when the text is changed', async () => {
    const { state } = await opened(address('G | C | D', '&locks=2%3Dhold:3/A,B/3-4-5'));
    await state.otherwise(stepAt(state, 2));
    await state.write('Em | G | C | D', 'same');
    expect([0, 1, 2, 3].map((index) => state.lockOf(index))).toEqual([
      'free',
      'free',
      'hold',
      'free',
    ]);
    expect(heldAt(state, 2)).toBe('3/A,B/3-4-5');
    expect([2, 3].map((index) => state.turnedDown(index))).toEqual([0, 1]);
    // the notes are others in another key
    await state.transpose(2);
    expect(state.locks.size).toBe(0);
    expect(state.turnedDown(3)).toBe(0);
  });
});

describe('a chord that cannot be played as asked', () => {
  const asked = address('G | Cmaj7', '&match=complete&sizes=4-4&frets=3-3');

  it('is passed over and told, with one pull more that would give it', async () => {
    const { state } = await opened(asked);
    expect(symbols(state)).toEqual(['G']);
    const [chord] = state.answered?.arrangement.unplayable ?? [];
    if (chord === undefined) throw new Error('it can be played');
    expect([chord.index, chord.chord.symbol]).toEqual([1, 'Cmaj7']);
    const pulls = await state.onePull(chord);
    expect(pulls.ok && pulls.value.length).toBeGreaterThan(0);
    // none that would break or slacken a string: at most three semitones
    for (const { pull } of pulls.ok ? pulls.value : [])
      expect(Math.abs(pull.semitones)).toBeLessThanOrEqual(3);
  });

  it('is played as what is nearest, when that is taken', async () => {
    const { state } = await opened(asked);
    const [chord] = state.answered?.arrangement.unplayable ?? [];
    const along = chord?.nearest.find(({ words }) => words === 'along the whole neck');
    if (chord === undefined || along === undefined) throw new Error('nothing is nearest');
    expect(along.count).toBeGreaterThan(0);
    await state.settleFor(chord.index, along.change);
    expect(symbols(state)).toEqual(['G', 'Cmaj7']);
    expect(state.answered?.arrangement.unplayable).toEqual([]);
    // the other chord keeps to what was asked
    expect(stepAt(state, 0).hold.fret).toBe(3);
    expect(stepAt(state, 1).hold.strings).toHaveLength(4);
  });
});

describe('arrangements of other characters', () => {
  it('are shown in place of the chosen one, and gone with the next answer', async () => {
    const { state } = await opened(address('G | C | D7 | G'));
    await state.findAlternatives();
    const [other] = state.alternatives?.others ?? [];
    expect(other).toBeDefined();
    state.other = other;
    expect(state.way).toBe(other?.way);
    await state.write('G | C', 'same');
    expect(state.alternatives).toBeUndefined();
    expect(state.way).toBe(state.ways[0]);
  });
});

describe('answers that come late, or not at all', () => {
  function slow() {
    const waiting: ((found?: Result<Arrangement, string>) => Promise<void>)[] = [];
    const worker = arranging();
    const made = page({
      arrange: (...given) =>
        new Promise((done) =>
          waiting.push(async (found) => done(found ?? (await worker.arrange(...given)))),
        ),
      arrangeTune: (...given) => worker.arrangeTune(...given),
      alternatives: (...given) => worker.alternatives(...given),
      onePull: (...given) => worker.onePull(...given),
    });
    const answer = async (found?: Result<Arrangement, string>): Promise<void> => {
      await waiting.shift()?.(found);
      await new Promise((then) => setTimeout(then));
    };
    return { ...made, waiting, answer };
  }
  const soon = (): Promise<void> => new Promise((then) => setTimeout(then));

  it('are asked for once where typing ends, and what is older says so', async () => {
    const { state, waiting, answer } = slow();
    const first = state.open(fromText({ setup: 'e9', wishes: {} }, 'G'));
    await soon();
    await answer();
    await first;
    expect(state.isBehind).toBe(false);
    const typed = ['G |', 'G | C', 'G | C | G'].map((text) => state.write(text, 'same', 20));
    expect(state.isBehind).toBe(true);
    await new Promise((then) => setTimeout(then, 40));
    expect(waiting).toHaveLength(1);
    expect(symbols(state)).toEqual(['G']);
    await answer();
    await Promise.all(typed);
    expect(state.isBehind).toBe(false);
    expect(symbols(state)).toEqual(['G', 'C', 'G']);
  });

  it('that of an older text is nobody’s', async () => {
    const { state, waiting, answer } = slow();
    const first = state.open(fromText({ setup: 'e9', wishes: {} }, 'G'));
    await soon();
    const second = state.write('G | C', 'same');
    await soon();
    expect(waiting).toHaveLength(2);
    await answer();
    expect(state.answered).toBeUndefined();
    expect(state.busy).toBe(true);
    await answer();
    await Promise.all([first, second]);
    expect(symbols(state)).toEqual(['G', 'C']);
    expect(state.busy).toBe(false);
  });

  it.each<[string, (state: ProgressionState) => Promise<void>]>([
    ['a wish that cannot be read', (state) => state.wish('frets', 'all of them')],
    ['a text without a chord', (state) => state.write('', 'same')],
    ['a setup that is not there', (state) => state.choose('kept-nowhere')],
  ])('%s ends the wait for what was asked before', async (_, ask) => {
    const { state, answer } = slow();
    const first = state.open(fromText({ setup: 'e9', wishes: {} }, 'G'));
    await soon();
    expect(state.busy).toBe(true);
    await ask(state);
    expect(state.busy).toBe(false);
    await answer();
    await first;
    expect([state.busy, state.answered]).toEqual([false, undefined]);
  });

  it('what was told of a question that failed goes when the next one cannot be read', async () => {
    const { state, answer } = slow();
    const first = state.open(fromText({ setup: 'e9', wishes: {} }, 'G'));
    await soon();
    await answer(refuse('It stopped.'));
    await first;
    await state.wish('frets', 'all of them');
    expect(state.failure).toBeUndefined();
    expect(state.wishFaults).toHaveLength(1);
  });

  it('a worker that fails is told, what was found stays, and it can be tried again', async () => {
    const { state, answer } = slow();
    const first = state.open(fromText({ setup: 'e9', wishes: {} }, 'G'));
    await soon();
    await answer();
    await first;
    const second = state.write('G | C', 'same');
    await soon();
    await answer(refuse('It stopped.'));
    await second;
    expect(state.failure).toBe('It stopped.');
    expect(symbols(state)).toEqual(['G']);
    const again = state.solve();
    await soon();
    await answer();
    await again;
    expect(state.failure).toBeUndefined();
    expect(symbols(state)).toEqual(['G', 'C']);
  });
});

describe('a phrase', () => {
  const placedIn = (key: string, id: string) => {
    const in_ = parseKey(key);
    const found = in_ && placePhrase(builtIn('e9'), id, in_);
    if (found === undefined) throw new Error(id);
    return found;
  };

  it('is played in its own texture after the end, and the rest as before', async () => {
    const { state } = await opened(address('G | C'));
    await state.addPhrase(placedIn('G', 'rise-in-thirds'));
    const played = state.tuneWay?.steps ?? [];
    // two chords, then the five notes of the phrase, two strings each
    expect(played.map(({ onset }) => [onset.measure, onset.texture])).toEqual([
      [0, 'chords'],
      [1, 'chords'],
      ...[2, 2, 2, 2, 3].map((measure) => [measure, 'thirds']),
    ]);
    for (const { hold } of played.slice(2)) expect(hold.strings).toHaveLength(2);
    await state.addPhrase(placedIn('G', 'stroll-in-sixths'));
    expect(state.tuneWay?.steps.map(({ onset }) => onset.texture).slice(7)).toEqual(
      Array(6).fill('sixths'),
    );
  });
});
