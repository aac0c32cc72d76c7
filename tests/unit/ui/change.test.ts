/** Change's state: what is proposed, weighed, listed and looked at, with no worker between. */
import { beforeEach, describe, expect, it } from 'vitest';
import { refuse, type Result } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { readControl } from '$lib/setup/controlText';
import { readSetup } from '$lib/setup/readSetup';
import type { Pull, Setup } from '$lib/setup/setup';
import { ChangePage } from '$lib/ui/change/change.svelte';
import { changeAddressText, readChangeAddress } from '$lib/ui/change/changeAddress';
import type { Weighing } from '$lib/ui/change/changeAnswer.svelte';
import type { Entry } from '$lib/ui/kit/addressBar';
import { weighing } from './answering';

const E9 = builtIn('e9');

/** Three strings, C E G from low to high, and one pedal that makes F A C of them. */
function three(): Setup {
  const read = readSetup({
    format: 1,
    name: 'three strings',
    frets: 12,
    necks: [{ name: 'C', strings: [{ open: 'G4' }, { open: 'E4' }, { open: 'C4' }] }],
    controls: [
      {
        id: 'A',
        station: 'P1',
        pulls: [
          { string: 1, semitones: 2 },
          { string: 2, semitones: 1 },
        ],
      },
    ],
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

/** A page that has opened an address, and what it has written since. */
async function opened(address: string, before: Setup = E9, worker: Weighing = weighing()) {
  const written: { text: string; entry: Entry }[] = [];
  const change = new ChangePage(worker, before, (address, entry) =>
    written.push({ text: changeAddressText(address), entry }),
  );
  await change.open(readChangeAddress(new URLSearchParams(address)), before);
  return { change, written };
}
const pull = (string: number, semitones: number): Pull => ({ neck: 1, string, semitones });
const counts = (change: ChangePage) => ({ ...change.answer.weighed?.counts });
/** The pulls that are written as one line for a station. */
function pullsOf(setup: Setup, text: string): readonly Pull[] {
  const read = readControl(setup, text);
  if (!read.ok) throw new Error(`${read.error.found}: ${read.error.allowed}`);
  return read.value.pulls;
}

describe('a pull on a free station', () => {
  it('gives and takes nothing away, and stands in the address until it is discarded', async () => {
    const { change, written } = await opened('station=RKV');
    await change.setPulls([pull(1, 1)]);
    // a lever that need not be pressed takes nothing from what there was
    expect(change.answer.weighed?.counts.gained).toBeGreaterThan(0);
    expect(change.answer.weighed?.counts.lost).toBe(0);
    expect(change.answer.weighed?.gain).toBeGreaterThan(0);
    expect(change.answer.shownList).toBe('gained');
    expect(written).toEqual([{ text: 'with=RKV:1%2B1&station=RKV', entry: 'new' }]);
    expect(change.pullsText).toBe('1+1');

    const again = await opened(written[0]?.text ?? '');
    expect(counts(again.change)).toEqual(counts(change));

    await change.discard();
    expect(change.changed).toBe(false);
    expect(counts(change)).toEqual({ gained: 0, lost: 0, easier: 0, harder: 0 });
    expect(change.after).toEqual(E9);
    expect(written.at(-1)).toEqual({ text: 'station=RKV', entry: 'new' });
  });

  it('is listed row by row as new, at the fret where the bar lies', async () => {
    const { change } = await opened('station=RKV&with=RKV:1%2B1&list=gained');
    const all = change.answer.rows?.rows ?? [];
    expect(change.answer.rows?.count).toBeGreaterThan(0);
    for (const { state, ranked } of all) {
      expect(state).toBe('gained');
      expect(ranked.voicing.fret).toBe(3);
      // what was not there before needs the new lever
      expect(ranked.voicing.ways[0]?.some(({ id }) => id === 'RKV')).toBe(true);
    }
    expect(change.hold).toMatchObject({ fret: 3, strings: all[0]?.ranked.voicing.strings });
    expect(change.played).toEqual(change.after);
  });

  it('goes with its last pull, and the station is free again', async () => {
    const { change } = await opened('station=RKV&with=RKV:1%2B1');
    expect(change.control?.id).toBe('RKV');
    await change.setPulls([]);
    expect(change.control).toBeUndefined();
    expect(change.changed).toBe(false);
  });
});

describe('a control that is there', () => {
  it('removed gives nothing and takes, until it is restored', async () => {
    const { change } = await opened('station=P1');
    await change.remove();
    // whatever is played without A was played before
    expect(change.answer.weighed?.counts.gained).toBe(0);
    expect(change.answer.weighed?.counts.lost).toBeGreaterThan(0);
    expect(change.answer.shownList).toBe('lost');
    // what is lost is played on the setup as it is
    expect(change.answer.row?.state).toBe('lost');
    expect(change.played).toBe(E9);
    expect(change.control).toBeUndefined();
    expect(change.controlBefore?.id).toBe('A');
    await change.restore();
    expect(change.changed).toBe(false);
    expect(counts(change)).toEqual({ gained: 0, lost: 0, easier: 0, harder: 0 });
  });

  it('makes possible what taking it away would take: the same numbers the other way round', async () => {
    const { change, written } = await opened('station=P1');
    await change.remove();
    const { lost } = change.answer.weighed?.counts ?? {};
    await change.restore();
    await change.ask('A');
    expect(change.answer.weighed?.counts.gained).toBe(lost);
    expect(change.answer.weighed?.counts.lost).toBe(0);
    expect(change.answer.lesson).toBeDefined();
    expect(written.at(-1)).toEqual({ text: 'station=P1&learn=A', entry: 'new' });
    await change.ask(undefined);
    expect(change.answer.lesson).toBeUndefined();
    expect(counts(change)).toEqual({ gained: 0, lost: 0, easier: 0, harder: 0 });
  });

  it('that is put in question is no longer, once something is proposed', async () => {
    const { change } = await opened('station=RKV&learn=A');
    expect(change.learn).toBe('A');
    await change.setPulls([pull(1, 1)]);
    expect(change.learn).toBeUndefined();
    expect(change.answer.lesson).toBeUndefined();
  });

  it('with pulls added keeps its id and gives them in the order of the strings', async () => {
    const { change } = await opened('station=LKV');
    await change.setPulls(pullsOf(E9, 'LKV:10-1,6+1,5-1'));
    expect(change.pullsText).toBe('5-1,6+1,10-1');
    expect(change.control?.id).toBe('LKV');
    expect(change.address.proposal).toEqual({ with: ['LKV:5-1,6+1,10-1'] });
    expect(change.answer.weighed?.counts.gained).toBeGreaterThan(0);
  });

  it('a line of pulls that cannot be read is refused with a sentence', () => {
    const read = readControl(E9, 'LKV:5+9, 99-1');
    expect(read.ok ? '' : `${read.error.found}: ${read.error.allowed}`).toBe(
      '“5+9”: 1 to 7 semitones up or down',
    );
  });
});

describe('on three strings, worked out by hand', () => {
  // Nothing pressed gives C major on the one grip of three strings, at every fret from 0 to 12; the
  // pedal gives F major.
  it('the pedal removed takes F major at thirteen frets', async () => {
    const { change } = await opened('station=P1', three());
    await change.remove();
    expect(counts(change)).toEqual({ gained: 0, lost: 13, easier: 0, harder: 0 });
    expect(change.answer.rows?.count).toBe(1);
    expect(change.answer.row?.chord.symbol).toBe('Ab');
    const major = change.answer.picture?.lines.find(({ type }) => type === '');
    expect([major?.before, major?.after]).toEqual([26, 13]);
    // the bar is at fret 3: C + 3 is E♭, F + 3 is A♭
    const states = major?.cells.map(({ state }) => state);
    expect(
      states?.map((state, chroma) => [state, chroma]).filter(([state]) => state !== 'none'),
    ).toEqual([
      ['same', 3],
      ['lost', 8],
    ]);
  });

  it('the bar takes every chord along, and stays within the neck', async () => {
    const { change, written } = await opened('station=P1&without=A', three());
    await change.moveBar(5);
    expect(change.answer.row?.chord.symbol).toBe('Bb');
    expect(change.hold).toMatchObject({ fret: 5, strings: [1, 2, 3] });
    expect(written).toEqual([{ text: 'without=A&at=5&station=P1', entry: 'same' }]);
    await change.moveBar(5);
    expect(written).toHaveLength(1);
    const { change: high } = await opened('at=24', three());
    expect(high.answer.fret).toBe(12);
  });

  it('one chord of the picture narrows the rows to it', async () => {
    const { change, written } = await opened('', three());
    expect(change.answer.shownList).toBe('all');
    expect(change.answer.rows?.rows.map(({ chord }) => chord.symbol)).toEqual(['Eb', 'Ab']);
    const chordNumber = change.answer.picture?.lines
      .flatMap(({ cells }) => cells)
      .find(({ symbol }) => symbol === 'A♭')?.chordNumber;
    await change.choose('all', chordNumber);
    expect(change.answer.rows?.rows.map(({ chord }) => chord.symbol)).toEqual(['Ab']);
    expect(written.at(-1)).toEqual({ text: 'list=all', entry: 'same' });
    // the same shape stays chosen while the bar moves
    await change.moveBar(0);
    expect(change.answer.rows?.rows.map(({ chord }) => chord.symbol)).toEqual(['F']);
    await change.choose('all');
    expect(change.answer.rows?.count).toBe(2);
  });
});

describe('lists', () => {
  it('grow by forty, and begin anew with another list', async () => {
    const { change } = await opened('list=all');
    const count = change.answer.rows?.count ?? 0;
    expect(count).toBeGreaterThan(60);
    expect(change.answer.rows?.rows).toHaveLength(20);
    const efforts = change.answer.rows?.rows.map(({ ranked }) => ranked.effort.total) ?? [];
    expect(efforts).toEqual([...efforts].sort((a, b) => a - b));
    await change.answer.showMore();
    expect(change.answer.rows?.rows).toHaveLength(60);
    await change.choose('gained');
    expect(change.answer.rows?.rows).toEqual([]);
    await change.choose('all');
    expect(change.answer.rows?.rows).toHaveLength(20);
  });
});

describe('a search for pulls', () => {
  it('asks of the station that is worked on, with texts that are not empty', async () => {
    const { change, written } = await opened('');
    expect(change.question.ok ? '' : change.question.error[0]?.path).toBe('station');
    change.workOn('RKV');
    change.setOption('upto', '2');
    change.setOption('must', '5');
    change.setOption('never', ' ');
    expect(change.question.ok && change.question.value).toMatchObject({
      control: { station: 'RKV' },
      stringsUpTo: 2,
      must: [{ neck: 1, string: 5 }],
    });
    expect(written.at(-1)).toEqual({ text: 'station=RKV&upto=2&must=5', entry: 'same' });
    change.setOption('must', '');
    change.workOn('RKV');
    expect(change.station).toBeUndefined();
    expect(written.at(-1)?.text).toBe('upto=2');
  });

  it('keeps to what the strings bear, unless any strain is asked for', async () => {
    const { change, written } = await opened('station=RKV');
    expect(change.question.ok && change.question.value.ranges).not.toEqual([]);
    change.setAnyStrain(true);
    expect(change.question.ok && change.question.value.ranges).toEqual([]);
    expect(written.at(-1)?.text).toBe('station=RKV&strain=any');
  });
});

describe('another setup', () => {
  it('begins without a proposal, a list, a place and limits of a search', async () => {
    const { change, written } = await opened(
      'station=RKV&with=RKV:1%2B1&list=all&at=20&upto=2&strain=any',
    );
    await change.changeSetup('three', three());
    expect(change.changed).toBe(false);
    expect([change.answer.list, change.answer.chordNumber, change.learn]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(change.options).toEqual({});
    // its neck ends at 12
    expect(change.answer.fret).toBe(12);
    expect(written.at(-1)).toEqual({
      text: 'setup=three&at=12&station=RKV&strain=any',
      entry: 'new',
    });
  });
});

describe('answers that come late, or not at all', () => {
  let jobs: { done: (answer: Result<unknown, string>) => void; run: () => Promise<unknown> }[];
  beforeEach(() => (jobs = []));
  /** A worker that answers when it is let. */
  const slow = (): Weighing => {
    const worker = weighing();
    const when =
      <G extends unknown[], T>(job: (...given: G) => Promise<Result<T, string>>) =>
      (...given: G) =>
        new Promise<Result<T, string>>((done) => {
          jobs.push({
            done: done as (answer: Result<unknown, string>) => void,
            run: () => job(...given),
          });
        });
    return {
      weigh: when(worker.weigh),
      picture: when(worker.picture),
      rows: when(worker.rows),
      lesson: when(worker.lesson),
    };
  };
  const answer = async (): Promise<void> => {
    const job = jobs.shift();
    job?.done((await job.run()) as Result<unknown, string>);
    await new Promise((then) => setTimeout(then));
  };
  const fail = async (why: string): Promise<void> => {
    jobs.shift()?.done(refuse(why));
    await new Promise((then) => setTimeout(then));
  };
  const page = (): ChangePage => new ChangePage(slow(), three(), () => undefined);
  const open = (change: ChangePage, address: string): Promise<void> =>
    change.open(readChangeAddress(new URLSearchParams(address)), three());

  it('that of an older question is nobody’s', async () => {
    const change = page();
    const first = open(change, 'station=P1&without=A');
    const second = change.discard();
    expect(change.answer.busy).toBe(true);
    await answer();
    expect(change.answer.weighed).toBeUndefined();
    expect(change.answer.busy).toBe(true);
    await answer();
    expect(change.answer.weighed?.counts.lost).toBe(0);
    expect(change.answer.busy).toBe(false);
    await answer();
    await Promise.all([first, second]);
    expect(change.answer.rows?.count).toBe(2);
  });

  it('that of a fret that the bar has left is nobody’s', async () => {
    const change = page();
    const first = open(change, '');
    await answer();
    await answer();
    await first;
    const moves = [change.moveBar(5), change.moveBar(7)];
    await answer();
    await answer();
    await answer();
    await Promise.all(moves);
    // C and F, seven frets up
    expect(change.answer.rows?.rows.map(({ chord }) => chord.symbol)).toEqual(['G', 'C']);
    expect(jobs).toEqual([]);
  });

  it('the bar that moves while a proposal is weighed is where the answer is laid', async () => {
    const change = page();
    const first = open(change, 'station=P1');
    while (jobs.length > 0) await answer();
    await first;
    const weighed = change.remove();
    const moved = change.moveBar(5);
    // the picture's answer is quicker than what is weighed
    jobs.reverse();
    while (jobs.length > 0) await answer();
    await Promise.all([weighed, moved]);
    const there = page();
    const opened = open(there, 'station=P1&without=A&at=5');
    while (jobs.length > 0) await answer();
    await opened;
    expect(change.answer.picture).toEqual(there.answer.picture);
    expect(change.answer.rows).toEqual(there.answer.rows);
    expect(change.answer.row?.chord.symbol).toBe('Bb');
  });

  it('a question that the bar has passed over twice is no failure', async () => {
    const change = page();
    const first = open(change, '');
    await answer();
    await answer();
    await first;
    const moves = [change.moveBar(5), change.moveBar(7), change.moveBar(5)];
    // of these only the newest is answered
    await fail('A newer question was asked.');
    await fail('A newer question was asked.');
    await answer();
    await answer();
    await Promise.all(moves);
    expect(change.answer.failure).toBeUndefined();
    expect(jobs).toEqual([]);
  });

  it('a worker that fails is told, and the next question weighs anew', async () => {
    const change = page();
    const first = open(change, 'station=P1&without=A');
    await fail('The search stopped.');
    await first;
    expect(change.answer.failure).toBe('The search stopped.');
    expect(change.answer.busy).toBe(false);
    const again = change.moveBar(5);
    await answer();
    await answer();
    await again;
    expect(change.answer.failure).toBeUndefined();
    expect(change.answer.weighed?.counts.lost).toBe(13);
    expect(change.answer.row?.chord.symbol).toBe('Bb');
  });

  it('a proposal that cannot be is not weighed, and says why', async () => {
    const change = page();
    await open(change, 'with=LKL:9%2B1');
    expect(jobs).toEqual([]);
    expect(change.faults).toEqual(['with: found “9+1”; allowed is a string of that neck, 1 to 3.']);
    expect(change.answer.busy).toBe(false);
  });
});
