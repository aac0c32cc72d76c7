/** A name for a file, from the name of what is in it: only signs that every system takes. */
export function fileNameOf(name: string, ending: string): string {
  const plain = name
    .normalize('NFKD')
    .replaceAll('♯', ' sharp ')
    .replaceAll('♭', ' flat ')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .toLowerCase()
    .slice(0, 60)
    .replace(/^-+|-+$/g, '');
  return `${plain === '' ? 'gripwright' : plain}.${ending}`;
}
