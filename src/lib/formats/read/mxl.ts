/** The score inside a compressed MusicXML file (`.mxl`, a ZIP archive with a table of contents). */
import { strFromU8, unzipSync } from 'fflate';
import { ok, refuse, type Result } from '$lib/result';
import { childOf, readXml } from './xml';

/** No score is larger; what claims to be is not unpacked. */
const MOST_BYTES = 20_000_000;

function unpacked(bytes: Uint8Array, name: string): Uint8Array | undefined {
  const files = unzipSync(bytes, {
    // the size that the archive claims is the size of the buffer that it is unpacked into
    filter: (file) => file.name === name && file.originalSize <= MOST_BYTES,
  });
  return Object.hasOwn(files, name) ? files[name] : undefined;
}

/** The text of the score that the archive names. */
export function readMxl(bytes: Uint8Array): Result<string, string> {
  try {
    const contents = unpacked(bytes, 'META-INF/container.xml');
    if (contents === undefined)
      return refuse('The archive has no table of contents (META-INF/container.xml).');
    const container = readXml(strFromU8(contents));
    if (!container.ok) return container;
    const rootfile = childOf(childOf(container.value, 'rootfiles'), 'rootfile');
    const path = rootfile?.attributes['full-path'];
    const score = path === undefined ? undefined : unpacked(bytes, path);
    return score === undefined
      ? refuse(
          `The archive does not hold the score it names, or it is larger than ${MOST_BYTES} bytes.`,
        )
      : ok(strFromU8(score));
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    return refuse(`The archive cannot be unpacked (${detail}).`);
  }
}
