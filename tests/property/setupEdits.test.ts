/** Whatever is done to a setup, it stays one; and what has a way back comes back. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Edited } from '$lib/setup/edits/edited';
import { addControl, freeStations, removeControl, setId } from '$lib/setup/edits/controls';
import { FIGURES, rename, setFigure, setNotes, setSplitStops } from '$lib/setup/edits/figures';
import { setHead, setOpens, setPullsAlong, setWires } from '$lib/setup/edits/lines';
import { withUsualControls } from '$lib/setup/edits/usualControls';
import { withUsualGauges } from '$lib/strings/usualGauges';
import { readWire, wireText } from '$lib/setup/edits/wireText';
import { addNeck, removeNeck, renameNeck, transposeNeck } from '$lib/setup/edits/necks';
import { movePull, nudgePull, pullAt, setPull } from '$lib/setup/edits/pulls';
import { readTravel, travelText } from '$lib/setup/edits/travelText';
import {
  allow,
  dropException,
  setKneeUpWithSideways,
  setPedalsAtOnce,
  switchOff,
} from '$lib/setup/edits/reach';
import {
  CONTROL_FIGURES,
  setControlFigure,
  setDeadLength,
  setFingerRadius,
} from '$lib/setup/edits/rigging';
import { reversePedals, setStation } from '$lib/setup/edits/stations';
import {
  addString,
  moveString,
  nudgeOpen,
  removeString,
  setOpen,
  setWire,
} from '$lib/setup/edits/strings';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { unreachable } from '$lib/setup/reach';
import { readSetup } from '$lib/setup/readSetup';
import { STATIONS, openMidi, type Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import { runs } from '../battery';
import { smallSetup } from './generators';

type Edit = (setup: Setup) => Edited;

const TEXTS = [
  '',
  '+2',
  '-1',
  '-1/-2',
  '+1/+3',
  '2',
  'C#',
  'Bb',
  'E4',
  'D/C',
  '+9',
  'x',
  '1/2/3',
  '0',
];
const FIGURE_TEXTS = ['', '9', '12,5', '0', '-3', 'x'];
const from = <T>(list: readonly T[], pick: number): T | undefined => list[pick % list.length];

/** Any edit, of things that are there and of things that are not. */
const anyEdit: fc.Arbitrary<Edit> = fc
  .tuple(
    fc.integer({ min: 0, max: 31 }),
    fc.nat({ max: 40 }),
    fc.nat({ max: 40 }),
    fc.constantFrom(...TEXTS),
  )
  .map(([kind, a, b, text]): Edit => (setup) => {
    const id = from(setup.controls, a)?.id ?? 'none';
    const neck = 1 + (a % (setup.necks.length + 1));
    const string = 1 + (b % 7);
    const cell = { id, neck, string };
    const ids = setup.controls.filter((_, place) => (b >> place) & 1).map((each) => each.id);
    const edits: readonly (() => Edited)[] = [
      () => setPull(setup, cell, text),
      () => movePull(setup, cell, (b % 20) - 10),
      () => nudgePull(setup, cell, b % 2 ? 1 : -1),
      () => setOpen(setup, neck, string, text),
      () => nudgeOpen(setup, neck, string, b % 2 ? 1 : -1),
      () => setWire(setup, neck, string, ['.013', '36w', '.036w/.016', '', 'x', '.9'][b % 6] ?? ''),
      () => addString(setup, neck, string),
      () => removeString(setup, neck, string),
      () => moveString(setup, neck, string, 1 + (a % 7)),
      () => addControl(setup, from(STATIONS, b) ?? 'P1', text === '' ? undefined : text),
      () => removeControl(setup, id),
      () => setId(setup, id, text),
      () => setStation(setup, id, from(STATIONS, b) ?? 'P1'),
      () => reversePedals(setup),
      () => addNeck(setup, builtIn(from(BUILT_IN_IDS, b) ?? 'e9').necks[0]!),
      () => removeNeck(setup, neck),
      () => transposeNeck(setup, neck, b - 20),
      () => switchOff(setup, ids),
      () => allow(setup, ids),
      () => dropException(setup, a % 2 ? 'never' : 'also', b % 3),
      () => setPedalsAtOnce(setup, b % 6),
      () => setKneeUpWithSideways(setup, b % 2 === 0),
      () => setControlFigure(setup, id, from(CONTROL_FIGURES, a) ?? 'forceN', FIGURE_TEXTS[b % 6]!),
      () => setFingerRadius(setup, FIGURE_TEXTS[b % 6]!),
      () => setDeadLength(setup, FIGURE_TEXTS[b % 6]!),
      () => setSplitStops(setup, b % 2 === 0),
      () => setHead(setup, id, neck, `${text} ${string}${text}`),
      () =>
        setPullsAlong(
          setup,
          cell,
          setup.controls.map((each) => each.id),
          `${text} . ${text}`,
        ),
      () => setOpens(setup, neck, string, `${text} E4`),
      () => setWires(setup, neck, string, `.013 ${text}`),
      () => withUsualControls(setup, a % 10, b % 8),
      () => withUsualGauges(setup),
    ];
    return (edits[kind] ?? edits[0]!)();
  });

const must = (result: Edited): Setup => {
  if (!result.ok) throw new Error(result.error);
  return result.value;
};

describe('a setup that is edited', () => {
  it('stays one that can be written and read, whatever is done to it in whatever order', () => {
    fc.assert(
      fc.property(smallSetup, fc.array(anyEdit, { maxLength: 25 }), (setup, edits) => {
        let now = setup;
        for (const edit of edits) {
          const before = structuredClone(now);
          const next = edit(now);
          // the setup that was edited is another one
          expect(now).toEqual(before);
          if (next.ok) now = next.value;
          else expect(next.error).toMatch(/^.{8,}\.$/s);
        }
        expect(readSetup(setupFileOf(now))).toEqual({ ok: true, value: now });
      }),
      { numRuns: runs(200, 4000) },
    );
  });

  it('never names a control in its reach that it has not', () => {
    fc.assert(
      fc.property(smallSetup, fc.array(anyEdit, { maxLength: 25 }), (setup, edits) => {
        const last = edits.reduce((now, edit) => {
          const next = edit(now);
          return next.ok ? next.value : now;
        }, setup);
        const ids = last.controls.map(({ id }) => id);
        for (const set of [...(last.reach.never ?? []), ...(last.reach.also ?? [])])
          for (const id of set) expect(ids).toContain(id);
      }),
    );
  });

  it('takes words, names and figures of every kind, or says why not', () => {
    fc.assert(
      fc.property(smallSetup, fc.string(), fc.constantFrom(...FIGURES), (setup, text, figure) => {
        for (const next of [
          rename(setup, text),
          renameNeck(setup, 1, text),
          setNotes(setup, text),
          setFigure(setup, figure, text),
        ])
          if (next.ok) expect(readSetup(setupFileOf(next.value)).ok).toBe(true);
          else expect(next.error.length).toBeGreaterThan(8);
      }),
    );
  });
});

describe('what has a way back comes back', () => {
  it('pedals reversed twice', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const once = reversePedals(setup);
        if (once.ok) expect(must(reversePedals(once.value))).toEqual(setup);
      }),
    );
    for (const id of BUILT_IN_IDS) {
      const once = reversePedals(builtIn(id));
      if (once.ok) expect(must(reversePedals(once.value))).toEqual(builtIn(id));
    }
  });

  it('two controls that change places twice', () => {
    fc.assert(
      fc.property(smallSetup, fc.nat(), fc.constantFrom(...STATIONS), (setup, pick, station) => {
        const control = from(setup.controls, pick);
        if (control === undefined) return;
        const at = must(setStation(setup, control.id, station));
        const moved = at.controls.find((each) => each.station === station);
        expect(must(setStation(at, moved?.id ?? '', control.station))).toEqual(setup);
      }),
    );
  });

  it('a neck transposed there and back, as it sounds', () => {
    fc.assert(
      fc.property(smallSetup, fc.integer({ min: -24, max: 24 }), (setup, by) => {
        const there = must(transposeNeck(setup, 1, by));
        const first = setup.necks[0]!;
        expect(openMidi(there.necks[0]!)).toEqual(openMidi(first).map((midi) => midi + by));
        expect(there.controls).toEqual(setup.controls);
        expect(openMidi(must(transposeNeck(there, 1, -by)).necks[0]!)).toEqual(openMidi(first));
      }),
    );
  });

  it('a string moved there and back, with its pulls', () => {
    fc.assert(
      fc.property(smallSetup, fc.nat(), fc.nat(), (setup, a, b) => {
        const count = setup.necks[0]!.strings.length;
        const [from, to] = [1 + (a % count), 1 + (b % count)];
        const there = must(moveString(setup, 1, from, to));
        const sorted = (each: Setup) =>
          each.controls.map(({ id, pulls }) => ({
            id,
            pulls: [...pulls].sort((x, y) => x.neck - y.neck || x.string - y.string),
          }));
        const back = must(moveString(there, 1, to, from));
        expect(back.necks).toEqual(setup.necks);
        expect(sorted(back)).toEqual(sorted(setup));
        for (const { id } of setup.controls)
          expect(pullAt(there, { id, neck: 1, string: to })?.semitones).toBe(
            pullAt(setup, { id, neck: 1, string: from })?.semitones,
          );
      }),
    );
  });

  it('a string, a neck and a control that are added and taken away', () => {
    fc.assert(
      fc.property(smallSetup, fc.nat(), (setup, pick) => {
        const at = 1 + (pick % (setup.necks[0]!.strings.length + 1));
        expect(must(removeString(must(addString(setup, 1, at)), 1, at))).toEqual(setup);
        const necks = must(addNeck(setup, builtIn('c6').necks[0]!));
        expect(must(removeNeck(necks, necks.necks.length))).toEqual(setup);
        const station = from(freeStations(setup), pick)!;
        expect(must(removeControl(must(addControl(setup, station)), station))).toEqual(setup);
      }),
    );
  });
});

describe('what is written is read as it was', () => {
  it('a pull', () => {
    const [open] = builtIn('e9').necks[0]!.strings;
    fc.assert(
      fc.property(fc.integer({ min: -7, max: 7 }), fc.nat({ max: 6 }), (semitones, part) => {
        if (semitones === 0) return;
        const half = Math.sign(semitones) * (part % Math.abs(semitones));
        const travel = half === 0 ? { semitones } : { semitones, half };
        expect(readTravel(travelText(travel), open!.open)).toEqual({ ok: true, value: travel });
      }),
    );
  });

  it('a wire', () => {
    const inches = fc.integer({ min: 40, max: 1500 }).map((n) => n / 10_000);
    fc.assert(
      fc.property(inches, fc.boolean(), (gauge, wound) => {
        const wire = wound ? { gauge, wound } : { gauge };
        expect(readWire(wireText(wire))).toEqual({ ok: true, value: wire });
      }),
    );
  });
});

describe('a combination that is switched off or allowed', () => {
  it('is so afterwards, whatever was said before', () => {
    fc.assert(
      fc.property(smallSetup, fc.nat({ max: 31 }), fc.boolean(), (setup, pick, off) => {
        const ids = setup.controls.filter((_, place) => (pick >> place) & 1).map(({ id }) => id);
        const next = off ? switchOff(setup, ids) : allow(setup, ids);
        if (!next.ok) return;
        const held = ids.map((id) => ({ id, state: 'full' as const }));
        expect(unreachable(next.value, held) === undefined).toBe(!off);
      }),
    );
  });
});
