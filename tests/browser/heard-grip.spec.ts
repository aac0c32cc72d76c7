/** A grip is played before Chromium's stand-in for a microphone, which hears a file, and is heard. */
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { wavBytes } from '../../src/lib/formats/wav';
import { hearingFile } from './fakeMicrophone';
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

const RATE = 48_000;
/** A string that was picked: ten partials, a little stiff, each fading. */
function picked(hz: number, seconds: number): Float32Array {
  return Float32Array.from({ length: seconds * RATE }, (_, i) => {
    const t = i / RATE;
    let sum = 0;
    for (let n = 1; n <= 10; n++)
      sum +=
        (0.12 / n) *
        Math.exp(-t * (0.4 + 0.15 * n)) *
        Math.sin(2 * Math.PI * hz * n * Math.sqrt(1 + 0.00002 * n * n) * t);
    return sum;
  });
}

// E9 at fret 8: strings 3, 4, 5 sound E5, C5, G4 (MIDI 76, 72, 67); 3 and 5 both eight cents sharp, 4 left out
const file = join(mkdtempSync(join(tmpdir(), 'heard-')), 'grip.wav');
const strings = [76.08, 67.08].map((midi) => picked(440 * 2 ** ((midi - 69) / 12), 3));
writeFileSync(
  file,
  wavBytes([Float32Array.from(strings[0] ?? [], (each, i) => each + (strings[1]?.[i] ?? 0))], RATE),
);
test.use({
  launchOptions: hearingFile(file),
});

test('a grip is heard string by string, recorded, and the microphone is let go', async ({
  page,
  gripwright,
}) => {
  test.setTimeout(60_000);
  await page.addInitScript(() => {
    const tracks: MediaStreamTrack[] = [];
    Object.assign(globalThis, { tracks });
    const devices = navigator.mediaDevices;
    const plain = devices.getUserMedia.bind(devices);
    devices.getUserMedia = async (how) => {
      const stream = await plain(how);
      tracks.push(...stream.getAudioTracks());
      return stream;
    };
  });
  const tracks = (): Promise<string[]> =>
    page.evaluate(() =>
      (globalThis as unknown as { tracks: MediaStreamTrack[] }).tracks.map(
        ({ readyState }) => readyState,
      ),
    );
  await gripwright.open('?at=8&strings=3,4,5');
  await gripwright.unfold('Microphone');
  expect(await tracks()).toEqual([]);

  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  const told = (string: number) => page.getByTestId(`heard-${string}`);
  await expect(told(4)).toHaveText('does not sound', { timeout: 15_000 });
  await expect(told(3)).toHaveText(/^\+(7\.[5-9]|8\.[0-5])\s*cents$/, { timeout: 15_000 });
  await expect(told(5)).toHaveText(/^\+(7\.[5-9]|8\.[0-5])\s*cents$/);
  // from the bar to the bridge 610 / 2^(8/12) mm: eight cents are 1.8 mm
  await expect(page.getByText(/^1\.[789] mm sharp$/)).toBeVisible();
  expect(await tracks()).toEqual(['live']);

  await page.getByText('Record, click and timing').click();
  await page.getByRole('button', { name: 'Record a take' }).click();
  await expect(page.getByRole('timer')).toHaveText(/0:0[3-9]/, { timeout: 15_000 });
  await page.getByRole('button', { name: 'End the take' }).click();
  await page.getByRole('button', { name: 'Stop listening' }).click();
  expect(await tracks()).toEqual(['ended']);
  await expect(told(3)).toHaveText(/average, worst \+\d/);
  await expect(told(4)).toHaveText('not heard');

  const takes = page.getByRole('list', { name: 'Takes' });
  await takes.getByRole('button', { name: 'Its cents' }).click();
  await expect(takes.getByRole('row', { name: /^3 E5 8\.\d cents/ })).toBeVisible();
  await expect(takes.getByRole('row', { name: /^4 C5 not heard/ })).toBeVisible();
  await expectNoObjection(page, 'a take with its cents');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    takes.getByRole('button', { name: 'Save as WAV' }).click(),
  ]);
  // the RIFF header: rate at 24, bits at 34, bytes of sound at 40
  const saved = readFileSync(await download.path());
  const rate = saved.readUInt32LE(24);
  expect(saved.readUInt16LE(34)).toBe(16);
  expect(saved.readUInt32LE(40) / 2 / rate).toBeGreaterThan(3);

  // kept on this device, and nowhere else
  await page.reload();
  await gripwright.unfold('Microphone');
  await page.getByText('Record, click and timing').click();
  await expect(takes.getByText('Fret 8, strings 3-4-5')).toBeVisible();

  // this microphone hears strings, and none of the bursts that go out: no delay is made up
  await page.getByRole('button', { name: 'Measure it', exact: true }).click();
  await expect(page.getByRole('alert')).toContainText(
    /^⚠ The (microphone did not hear the bursts|bursts came back at different times)\./,
    { timeout: 15_000 },
  );
  const delay = page.getByLabel('Delay, loudspeaker to microphone (ms)');
  await expect(delay).toHaveValue('');

  // a loop that is closed: what goes to the loudspeaker comes back as the microphone's sound, 87.3 ms later
  await page.evaluate(() => {
    const loops = new Map<BaseAudioContext, DelayNode>();
    const connect = Reflect.get(AudioNode.prototype, 'connect') as (
      this: AudioNode,
      to: AudioNode,
    ) => AudioNode;
    const looping = function (this: AudioNode, to: AudioNode): AudioNode {
      const loop = to instanceof AudioDestinationNode ? loops.get(to.context) : undefined;
      if (loop !== undefined) connect.call(this, loop);
      return connect.call(this, to);
    };
    const made = function (this: AudioContext): AudioNode {
      const loop = new DelayNode(this, { delayTime: 0.0873 });
      loops.set(this, loop);
      return loop;
    };
    Object.assign(AudioNode.prototype, { connect: looping });
    Object.assign(AudioContext.prototype, { createMediaStreamSource: made });
  });
  await page.getByRole('button', { name: 'Measure it', exact: true }).click();
  await expect(delay).toHaveValue('87.3', { timeout: 15_000 });
  expect(new Set(await tracks())).toEqual(new Set(['ended']));

  await test.step('practice hears what is played, says what is wrong, and how it goes on', async () => {
    await page.goto('practice/');
    await page.getByRole('button', { name: 'Begin the first round' }).click();
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect(page.getByText('Play it to the microphone.')).toBeVisible();
    // G with B on top is asked, and E5 and G4 are heard
    await expect(page.getByText('Other notes are heard as well.')).toBeVisible({ timeout: 15_000 });
    await page.getByRole('button', { name: 'Show me' }).click();
    await expect(page.getByText('Play it, and the next card comes.')).toBeVisible();
    await page.getByRole('button', { name: 'End', exact: true }).click();
    expect(new Set(await tracks())).toEqual(new Set(['ended']));
  });
});
