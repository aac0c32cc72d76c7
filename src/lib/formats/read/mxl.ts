/** The score inside a compressed MusicXML file (`.mxl`, a ZIP archive with a table of contents). */
import { strFromU8, unzipSync } from 'fflate';
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/scoreFaults';
import { ok, refuse, type Result } from '$lib/result';
import { childOf, readXml } from './xml';

/** No score is larger; what claims to be is not unpacked. */
const MOST_BYTES = 20_000_000;
/** The table of contents names a few files. */
const MOST_CONTENTS_BYTES = 100_000;

/** A file of the archive; `too large` where it claims to be, or is. */
function unpacked(
  bytes: Uint8Array,
  name: string,
  mostBytes: number,
): Uint8Array | 'too large' | undefined {
  let found = false;
  let tooLarge = false;
  const files = unzipSync(bytes, {
    filter: (file) => {
      // a second file of the name is not unpacked, nor a thousandth
      if (file.name !== name || found) return false;
      found = true;
      tooLarge = file.originalSize > mostBytes;
      // what the archive claims is the room that it is unpacked into: more than that is cut off
      return file.originalSize <= mostBytes;
    },
  });
  if (tooLarge) return 'too large';
  return Object.hasOwn(files, name) ? files[name] : undefined;
}

/** The text of the score that the archive names. */
export function readMxl(bytes: Uint8Array): Result<string, DocumentFault> {
  try {
    const contents = unpacked(bytes, 'META-INF/container.xml', MOST_CONTENTS_BYTES);
    if (contents === undefined || contents === 'too large')
      return refuse(fault('archive.noContents', ''));
    const container = readXml(strFromU8(contents));
    if (!container.ok) return container;
    const rootfile = childOf(childOf(container.value, 'rootfiles'), 'rootfile');
    const path = rootfile?.attributes['full-path'];
    const score = path === undefined ? undefined : unpacked(bytes, path, MOST_BYTES);
    if (score === 'too large') return refuse(fault('archive.tooLarge', '', MOST_BYTES));
    return score === undefined ? refuse(fault('archive.noScore', '')) : ok(strFromU8(score));
  } catch {
    return refuse(fault('archive.damaged', ''));
  }
}
