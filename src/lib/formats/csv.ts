/** Tables as comma-separated values (RFC 4180): CRLF between lines, quotes where a cell needs them. */

export type Cell = string | number | null;

const cellText = (cell: Cell): string => {
  const text = cell === null ? '' : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

/** Rows as the text of a file. */
export const csvText = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('');
