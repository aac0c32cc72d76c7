/** A grip is played before a microphone that stands in for one, and heard. */
import { expect, keptPageTest as test } from './page';

test('a grip that is played is heard string by string, and the microphone is let go', async ({
  page,
  gripwright,
}) => {
  test.setTimeout(60_000);
  await page.addInitScript(() => {
    const context = new AudioContext();
    const out = context.createMediaStreamDestination();
    /** Strings with stiffness and ten partials each, as long as the page is open. */
    const play = (...pitches: number[]): void => {
      for (const hz of pitches)
        for (let partial = 1; partial <= 10; partial++) {
          const tone = context.createOscillator();
          const level = context.createGain();
          tone.frequency.value = hz * partial * Math.sqrt(1 + 0.00002 * partial * partial);
          level.gain.value = 0.1 / partial;
          tone.connect(level).connect(out);
          tone.start();
        }
      void context.resume();
    };
    const tracks: MediaStreamTrack[] = [];
    Object.assign(globalThis, { play, tracks });
    navigator.mediaDevices.getUserMedia = () => {
      const stream = out.stream.clone();
      tracks.push(...stream.getAudioTracks());
      return Promise.resolve(stream);
    };
  });
  const tracks = (): Promise<string[]> =>
    page.evaluate(() =>
      (globalThis as unknown as { tracks: MediaStreamTrack[] }).tracks.map(
        ({ readyState }) => readyState,
      ),
    );
  // E9 at fret 8: string 3 sounds E5, 4 C5, 5 G4 (MIDI 76, 72, 67)
  await gripwright.open('?at=8&strings=3,4,5');
  await gripwright.unfold('Play it, and be heard');
  expect(await tracks()).toEqual([]);

  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  expect(await tracks()).toEqual(['live']);
  // strings 3 and 5, both eight cents sharp; 4 is left out
  await page.evaluate(
    (pitches) => {
      (globalThis as unknown as { play: (...hz: number[]) => void }).play(...pitches);
    },
    [76.08, 67.08].map((midi) => 440 * 2 ** ((midi - 69) / 12)),
  );
  const told = (string: number) => page.getByTestId(`heard-${string}`);
  await expect(told(4)).toHaveText('does not sound', { timeout: 15_000 });
  await expect(told(3)).toHaveText(/^\+(7\.[5-9]|8\.[0-5])\s*cents$/, { timeout: 15_000 });
  await expect(told(5)).toHaveText(/^\+(7\.[5-9]|8\.[0-5])\s*cents$/);
  // from the bar to the bridge 610 / 2^(8/12) mm: eight cents are 1.8 mm
  await expect(page.getByText(/The bar lies 1\.[789] mm sharp/)).toBeVisible();

  await page.getByRole('button', { name: 'Stop listening' }).click();
  expect(await tracks()).toEqual(['ended']);
  await expect(told(3)).toHaveText(/average, worst \+\d/);
  await expect(told(4)).toHaveText('not heard');
});
