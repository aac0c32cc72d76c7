/** A keyboard and an instrument that are plugged in, with a stand-in for the browser's Web MIDI. */
import { expect, keptPageTest as test } from './page';

interface Rack {
  asked: number;
  input: { onmidimessage: ((event: { data: Uint8Array }) => void) | null };
  sent: { bytes: number[]; at: number | undefined }[];
}

test('a chord on a keyboard is looked for, what is found plays an instrument, and keys are notes of a tune', async ({
  page,
  gripwright,
}) => {
  await page.addInitScript(() => {
    const input = { name: 'Keys', state: 'connected', onmidimessage: null };
    const rack = { asked: 0, input, sent: [] as { bytes: number[]; at: number | undefined }[] };
    const output = {
      ...{ name: 'Reeds', state: 'connected' },
      send: (bytes: number[], at?: number) => void rack.sent.push({ bytes: [...bytes], at }),
    };
    Object.assign(globalThis, { rack });
    Object.defineProperty(navigator, 'requestMIDIAccess', {
      value: () => {
        rack.asked++;
        const ports = { inputs: new Map([['1', input]]), outputs: new Map([['2', output]]) };
        return Promise.resolve({ ...ports, onstatechange: null });
      },
    });
  });
  const rack = <T>(read: (rack: Rack) => T): Promise<T> =>
    page.evaluate(`(${read.toString()})(globalThis.rack)`);
  const hold = (keys: readonly number[]): Promise<unknown> =>
    page.evaluate((down) => {
      const { input } = (globalThis as unknown as { rack: Rack }).rack;
      for (const status of [0x90, 0x80])
        for (const key of down) input.onmidimessage?.({ data: Uint8Array.from([status, key, 90]) });
    }, keys);

  await gripwright.open('?chord=C&at=8&strings=3,4,5');
  await gripwright.unfold('MIDI keyboard');
  expect(await rack(({ asked }) => asked)).toBe(0);
  await page.getByRole('button', { name: 'Use a MIDI keyboard' }).click();
  await expect(page.getByText('Keys: hold a chord.')).toBeVisible();
  // E4 G♯4 B4
  await hold([64, 68, 71]);
  const field = page.getByRole('textbox', { name: 'Chord' });
  await expect(field).toHaveValue('E4 G#4 B4');
  await expect(page.getByTestId('held-keys')).toContainText('E4 G♯4 B4');
  await page.getByLabel('What to do with a chord').selectOption({ label: 'find it by its name' });
  await expect(field).toHaveValue('E');
  await page.getByLabel('What to do with a chord').selectOption({ label: 'only name it' });
  await hold([60, 64, 67, 70]);
  await expect(page.getByTestId('held-keys')).toContainText('C7');
  await expect(field).toHaveValue('E');

  await gripwright.unfold('Sound');
  await page.getByRole('button', { name: 'Play a MIDI instrument too' }).click();
  await expect(page.getByText('Reeds is played along')).toBeVisible();
  // registered parameter 6 on the first channel: a zone of fifteen members (MPE 1.0)
  const zone = await rack(({ sent }) => sent.slice(0, 3).map(({ bytes }) => bytes));
  expect(zone).toEqual([
    [0xb0, 101, 0],
    [0xb0, 100, 6],
    [0xb0, 6, 15],
  ]);
  await page.keyboard.press('Escape');
  await gripwright.play.click();
  const struck = (): Promise<number> =>
    rack(
      ({ sent }) => new Set(sent.flatMap(({ bytes: [a = 0] }) => (a >> 4 === 9 ? [a] : []))).size,
    );
  await expect.poll(struck).toBeGreaterThanOrEqual(3);
  await gripwright.stop.click();
  const left = (): Promise<number> =>
    rack(({ sent }) => {
      const on = new Set<string>();
      for (const {
        bytes: [a = 0, key = 0],
      } of sent)
        if (a >> 4 === 9) on.add(`${a & 15} ${key}`);
        else if (a >> 4 === 8) on.delete(`${a & 15} ${key}`);
      return on.size;
    });
  await expect.poll(left).toBe(0);

  await page.goto('arrange/');
  await page.getByText('The tune', { exact: true }).click();
  await page.getByRole('button', { name: 'Enter notes with a MIDI keyboard' }).click();
  await expect(page.getByText('Keys: each key is a note')).toBeVisible();
  // B♭4, in ABC a flat before a capital letter (standard 2.1, 4.2)
  await hold([70]);
  await expect(page.getByLabel('The tune in ABC notation')).toHaveValue(/_B |\^A /);
});
