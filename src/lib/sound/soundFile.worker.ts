import { wavBytes } from '$lib/formats/wav';
import { renderNotes } from '$lib/rendering/renderSound';
import type { FileRequest } from './soundFile';

self.onmessage = ({ data: { notes, how } }: MessageEvent<FileRequest>) => {
  const { left, right, sampleRate } = renderNotes(notes, how);
  const bytes = wavBytes([left, right], sampleRate);
  self.postMessage(bytes, { transfer: [bytes.buffer] });
};
