/** What an address says of a part; an empty text says as little as none. */
export function given(parts: URLSearchParams, name: string): string | undefined {
  const text = parts.get(name) ?? '';
  return text.trim() === '' ? undefined : text;
}
