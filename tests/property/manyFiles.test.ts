/** A hundred thousand files through the reader: none makes it fall over, and what it takes comes back. */
import 'fake-indexeddb/auto';
import { expect } from 'vitest';
import { linkText, readLink } from '$lib/formats/shareLink';
import { readSetupText } from '$lib/setup/readSetup';
import { setupText } from '$lib/setup/writeSetup';
import { DatabaseDisk } from '$lib/storage/database';
import { setupKind } from '$lib/storage/kind';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { battery } from '../battery';
import { RandomFiles } from './randomFiles';

const NAME = 'reads or refuses each file; accepted ones come back byte for byte';

battery(NAME, { slice: 2_500, whole: 100_000 }, async ({ count, random }) => {
  const store = new Store(new DatabaseDisk(), new TabMessages());
  const files = new RandomFiles(random);
  const wrong: string[] = [];
  const kept = new Map<string, string>();
  let accepted = 0;
  for (let number = 0; number < count; number++) {
    const text = JSON.stringify(files.file());
    const read = readSetupText(text);
    if (!read.ok) {
      const whole = read.error.every(({ found, allowed }) => found !== '' && allowed !== '');
      if (read.error.length === 0 || !whole) wrong.push(`${number} is refused without words`);
      continue;
    }
    accepted += 1;
    const saved = setupText(read.value);
    const again = readSetupText(saved);
    if (!again.ok || setupText(again.value) !== saved) wrong.push(`${number} as a file`);
    // the device and links take longer; every fiftieth goes through them
    if (accepted % 50 !== 0) continue;
    const link = linkText({ kind: 'setup', text: setupKind.write(read.value) });
    const linked = link.ok ? readLink(link.value) : undefined;
    const fromLink = linked?.ok ? setupKind.read(linked.value.text) : undefined;
    if (!fromLink?.ok || setupText(fromLink.value) !== saved) wrong.push(`${number} as a link`);
    const id = `kept-${number}`;
    kept.set(id, saved);
    const first = { name: read.value.name, text: setupKind.write(read.value), label: 'made' };
    const { problem } = await store.create(id, 'setup', first);
    if (problem !== undefined) wrong.push(`${number}: ${problem}`);
  }
  // what another tab finds afterwards
  const { listed } = await new Store(new DatabaseDisk(), new TabMessages()).list('setup');
  for (const { entry, step } of listed) {
    const loaded = setupKind.read(step.text);
    if (!loaded.ok || setupText(loaded.value) !== kept.get(entry.id))
      wrong.push(`${entry.id} on the device`);
  }
  expect(wrong).toEqual([]);
  expect(listed).toHaveLength(kept.size);
  // the generator makes enough of both
  expect(accepted).toBeGreaterThan(count / 4);
  expect(accepted).toBeLessThan((count * 3) / 4);
});
