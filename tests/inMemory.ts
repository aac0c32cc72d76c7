/** Bytes as a file that the program's readers take. */
import type { FileToRead } from '$lib/formats/progressionFiles';

export const inMemory = (name: string, bytes: Uint8Array): FileToRead => ({
  name,
  size: bytes.length,
  bytes: () => bytes,
});
