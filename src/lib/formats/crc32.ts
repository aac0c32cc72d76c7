/** The check sum CRC-32/ISO-HDLC (ISO/IEC 13239; as in ZIP and PNG) of a text of plain letters. */
export function crc32(text: string): number {
  let crc = 0xffffffff;
  for (let at = 0; at < text.length; at++) {
    crc ^= text.charCodeAt(at) & 0xff;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}
