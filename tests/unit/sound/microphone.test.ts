/** Refusals of the microphone, each a sentence. */
import { afterEach, expect, it, vi } from 'vitest';
import { createMicrophone } from '$lib/sound/microphone';

afterEach(() => vi.unstubAllGlobals());

// names of the exceptions: W3C, Media Capture and Streams, getUserMedia()
it.each([
  ['NotAllowedError', /not allowed to use the microphone.*Allow it/],
  ['NotFoundError', /No microphone was found/],
  ['NotReadableError', /in use by another program/],
  ['SecurityError', /lets no page use the microphone/],
  ['AbortError', /cannot be opened: why/],
])('%s is told as a sentence', async (name, sentence) => {
  const error = Object.assign(new Error('why'), { name });
  vi.stubGlobal('navigator', {
    mediaDevices: { getUserMedia: () => Promise.reject(error) },
  });
  const opened = await createMicrophone().open();
  expect(!opened.ok && opened.error).toMatch(sentence);
});

it('an address without microphones is told too', async () => {
  vi.stubGlobal('navigator', {});
  const opened = await createMicrophone().open();
  expect(!opened.ok && opened.error).toMatch(/wants https/);
});
