/** What a file is that was dropped where no place takes it. */
import { setupKind, type Kind } from '$lib/storage/kind';
import { practiceKind } from '$lib/storage/practiceKind';
import { progressionKind } from '$lib/storage/progressionKind';
import { textOf, type OpenedFile } from '$lib/storage/textFile';
import { documentLink } from './documentLink';

export interface Dropped {
  readonly file: string;
  /** What it is, as a sentence. */
  readonly text: string;
  /** Behind which part of an address it can be looked at. */
  readonly link?: string;
}

function linked<T>(kind: Kind<T>, file: string, text: string): Dropped | undefined {
  const read = kind.read(text);
  if (!read.ok) return undefined;
  const link = documentLink(kind, read.value);
  return {
    file,
    text: `is the ${kind.kind} “${kind.nameOf(read.value)}”. Nothing was changed.`,
    ...(link.ok ? { link: link.value } : {}),
  };
}

/** What a file is that no place takes. */
export async function lookedAt(file: OpenedFile): Promise<Dropped> {
  const text = await textOf(file);
  const found =
    text.ok &&
    (linked(setupKind, file.name, text.value) ??
      linked(progressionKind, file.name, text.value) ??
      linked(practiceKind, file.name, text.value));
  return (
    found || {
      file: file.name,
      text: 'cannot be opened here. Nothing was changed.',
    }
  );
}
