/**
 * The formats of setup files: a file says the least one that can say it, so that a program which knows
 * format 1 alone reads what it can, and refuses the rest as newer.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linkText, readLink } from '$lib/formats/shareLink';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { migrate } from '$lib/setup/migrations';
import { readSetup, readSetupText } from '$lib/setup/readSetup';
import { setupFileOf } from '$lib/setup/writeSetup';
import { setupKind } from '$lib/storage/kind';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { largeSetup, setupOf, smallSetup } from '../../property/generators';

const plain = {
  format: 1,
  name: 'plain',
  necks: [{ name: 'n', strings: [{ open: 'C4' }, { open: 'E4' }] }],
  controls: [{ id: 'A', station: 'P1', pulls: [{ string: 1, semitones: 2 }] }],
};
const withControl = (facts: object, format = 2) => ({
  ...plain,
  format,
  controls: [{ ...plain.controls[0], ...facts }],
});

/** As a program does that knows format 1 and no other. */
const readByOlder = (document: unknown) => migrate(document, new Map(), 1);

const NEW: readonly (readonly [string, object])[] = [
  ...['LKL2', 'LKV2', 'LKR2', 'RKL2', 'RKV2', 'RKR2', 'WRIST', 'PALM1', 'PALM2'].map(
    (station) => [station, withControl({ station })] as const,
  ),
  ['a measured force', withControl({ forceN: 14.5 })],
  ['a measured spring', withControl({ springN: 0 })],
  ['a measured slack', withControl({ slackMm: 2.5, travelMm: 20 })],
  ['use', withControl({ usage: 3 })],
  ['split stops', { ...plain, format: 2, splitStops: true }],
  [
    'the target of a split',
    withControl({ pulls: [{ string: 1, semitones: -1, splitCents: -4.5 }] }),
  ],
  ['the finger’s radius', { ...plain, format: 2, fingerRadiusMm: 9.5 }],
];

const RIG: readonly (readonly [string, object])[] = [
  ['what a changer takes', { ...plain, format: 3, changer: { raises: 3, lowers: 2 } }],
  ['the holes of a finger', { ...plain, format: 3, changer: { raiseHolesMm: [18, 22.5] } }],
  ['the holes of the cranks', { ...plain, format: 3, changer: { crankHolesMm: [9], rodMm: 2 } }],
  [
    'the holes of one finger',
    { ...plain, format: 3, necks: [{ name: 'n', strings: [{ open: 'C4', lowerHolesMm: [31] }] }] },
  ],
  ['a cross shaft', withControl({ shaftMm: 120, turnDegrees: 7, mostTurnDegrees: 9 }, 3)],
  ['a rod', withControl({ pulls: [{ string: 1, semitones: 2, hole: 2, crank: 5 }] }, 3)],
];

describe('a file with what only format 3 knows: the rig', () => {
  it.each(RIG)('is read, kept whole, and refused where it says less: %s', (_, document) => {
    const setup = setupOf(document);
    expect(setupFileOf(setup)).toMatchObject(document);
    expect(setupOf(setupFileOf(setup))).toEqual(setup);
    for (const format of [1, 2]) {
      const older = readSetup({ ...document, format });
      expect(older.ok ? [] : older.error).toMatchObject([{ path: 'format', code: 'format.older' }]);
    }
    const refused = migrate(setupFileOf(setup), new Map(), 2);
    expect(refused.ok ? '' : refused.error.found).toContain('newer');
  });
});

describe('a file with what format 1 does not know', () => {
  it.each(NEW)('is read as format 2, and refused where it says format 1: %s', (_, document) => {
    expect(readSetup(document).ok).toBe(true);
    const older = readSetup({ ...document, format: 1 });
    expect(older.ok ? [] : older.error).toMatchObject([{ path: 'format', code: 'format.older' }]);
  });

  it.each(NEW)(
    'is written as format 2 with all of it, as a file and as a link: %s',
    (_, document) => {
      const setup = setupOf(document);
      expect(setupFileOf(setup)).toMatchObject(document);
      expect(setupOf(setupFileOf(setup))).toEqual(setup);
      const link = linkText({ kind: 'setup', text: setupKind.write(setup) });
      const back = link.ok ? readLink(link.value) : undefined;
      const text = back?.ok ? back.value.text : '';
      expect(readSetupText(text)).toEqual({ ok: true, value: setup });
      // and a program of format 1 refuses either, with the reason
      const refused = readByOlder(JSON.parse(text));
      expect(refused.ok ? '' : `${refused.error.found} ${refused.error.allowed}`).toMatch(
        /2, a format newer than this program.*a newer Gripwright reads this file/,
      );
    },
  );
});

describe('a file without', () => {
  it.each(BUILT_IN_IDS)('is written as format 1, for older programs too: %s', (id) => {
    expect(setupFileOf(builtIn(id)).format).toBe(1);
    expect(readByOlder(setupFileOf(builtIn(id))).ok).toBe(true);
  });

  it('is written as format 1 though it was read as format 2', () => {
    expect(setupFileOf(setupOf({ ...plain, format: 2 })).format).toBe(1);
  });

  it('is one that says nothing of format 2, whatever the setup', () => {
    const schemaOf1 = /LK[LVR]2|RK[LVR]2|WRIST|PALM|forceN|springN|slackMm|usage|fingerRadiusMm/;
    fc.assert(
      fc.property(fc.oneof(smallSetup, largeSetup), (setup) => {
        const said = setupFileOf(setup);
        const stations = said.controls.map(({ station }) => station).join(' ');
        const splits = /"split(Stops|Cents)":/.test(JSON.stringify(said));
        expect(said.format).toBe(schemaOf1.test(stations) || splits ? 2 : 1);
      }),
    );
  });
});

describe('what each format wrote is read for good, and written again in the same one:', () => {
  it.each([1, 2] as const)('format %d', (format) => {
    const { steps } = JSON.parse(
      readFileSync(inRoot(`tests/golden/kept-by-format-${format}.json`), 'utf8'),
    ) as { readonly steps: readonly { readonly text: string }[] };
    expect(steps.length).toBeGreaterThan(0);
    for (const { text } of steps) {
      const read = readSetupText(text);
      expect(read.ok && setupFileOf(read.value)).toMatchObject(JSON.parse(text) as object);
    }
  });
});
