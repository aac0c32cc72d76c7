import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { readSetup, readSetupText } from '$lib/setup/readSetup';
import { setupText } from '$lib/setup/writeSetup';
import { setupDocument } from './generators';

describe('a setup that is written and read again is the same setup', () => {
  it.each(BUILT_IN_IDS)('%s', (id) => {
    const setup = builtIn(id);
    expect(readSetupText(setupText(setup))).toEqual({ ok: true, value: setup });
  });

  it('and its text is the same byte for byte, whatever the setup', () => {
    fc.assert(
      fc.property(setupDocument, (document) => {
        const read = readSetup(document);
        if (!read.ok) throw new Error('the generator makes setups that can be read');
        const text = setupText(read.value);
        const again = readSetupText(text);
        expect(again).toEqual({ ok: true, value: read.value });
        expect(again.ok && setupText(again.value)).toBe(text);
      }),
    );
  });
});
