/** Handing a file to whoever uses the page, and the names that such files get. */

/** A name for a file from any title: letters and figures stay, everything else becomes a dash. */
export function fileNameOf(title: string, ending: string): string {
  const plain = title
    .normalize('NFC')
    // C♯m7 is another chord than Cm7
    .replace(/[♯#]/gu, ' sharp ')
    .replaceAll('♭', 'b')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 80)
    .replace(/^-+|-+$/g, '');
  return `${plain === '' ? 'gripwright' : plain}.${ending}`;
}

/** The same bytes, not copied: a long sound is large. */
const viewOf = (bytes: Uint8Array): Uint8Array<ArrayBuffer> =>
  bytes.buffer instanceof ArrayBuffer
    ? new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    : new Uint8Array(bytes);

/** Saves a file through the browser, as a click on a link would. */
export function saveFile(name: string, type: string, content: Uint8Array | string): void {
  const part = typeof content === 'string' ? content : viewOf(content);
  const url = URL.createObjectURL(new Blob([part], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // the browser has taken hold of it by then
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 1000);
}
