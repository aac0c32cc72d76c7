/** What the page of strings and rigging is told of a setup: sentences and figures, for one neck and for two. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { setWire } from '$lib/setup/edits/strings';
import type { Setup } from '$lib/setup/setup';
import { DEFAULT_BANDS } from '$lib/strings/bands';
import { strengthView } from '$lib/ui/strings/strengthView';
import { readStringsAddress, stringsAddressText } from '$lib/ui/strings/stringsAddress';

const E9 = builtIn('e9');
const wired = (string: number, wire: string): Setup => {
  const made = setWire(E9, 1, string, wire);
  if (!made.ok) throw new Error(made.error);
  return made.value;
};

describe('the strength of a setup', () => {
  it('is told in a sentence that counts no string twice and none that has no gauge', () => {
    const { together, allHold, missing, necks } = strengthView(E9, DEFAULT_BANDS, 'metric');
    const sum = necks
      .flatMap(({ rows }) => rows)
      .reduce((all, { figures }) => all + Number(/\d+/.exec(figures?.tension ?? '')?.[0]), 0);
    // ten figures, each rounded to a newton
    const told = Number(/\d+/.exec((together[0] ?? '').replaceAll(',', ''))?.[0]);
    expect(Math.abs(told - sum)).toBeLessThanOrEqual(5);
    expect([allHold, missing]).toEqual([true, undefined]);

    const bare = strengthView(wired(3, ''), DEFAULT_BANDS, 'metric');
    expect(bare.together[0]).toMatch(/ on the body, without 1 that have no gauge entered\.$/);
  });

  it('is told in pounds where those are chosen', () => {
    const { together } = strengthView(E9, DEFAULT_BANDS, 'us');
    expect(together[0]).toMatch(/^Together \d+\.\d lb on the body\.$/);
  });

  it('names neighbours that pull unevenly, the greater over the smaller', () => {
    // tension goes with the square of the gauge: .014 to .020 on E4 is about twice as much
    const { together } = strengthView(wired(4, '.020'), DEFAULT_BANDS, 'metric');
    expect(together.join(' ')).toMatch(/Strings 4 and 5 pull unevenly, 2\.\d to 1\./);
  });

  it('keeps necks apart, and says of which one a string is', () => {
    const { necks, drifts } = strengthView(builtIn('double'), DEFAULT_BANDS, 'metric');
    expect(necks.map(({ rows }) => rows.length)).toEqual([10, 10]);
    expect(drifts.every(({ where }) => /^(E9|C6) \d+$/.test(where))).toBe(true);
  });
});

it('its address says the setup and the limits, and reads back the same', () => {
  const address = { setup: 'c6', bands: { ...DEFAULT_BANDS, shareNear: 0.8 } };
  expect(stringsAddressText(address)).toBe('setup=c6&near=80');
  expect(readStringsAddress(new URLSearchParams(stringsAddressText(address)))).toEqual(address);
  expect(stringsAddressText(readStringsAddress(new URLSearchParams()))).toBe('');
});
