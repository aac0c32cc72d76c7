/** A document as what stands behind the `#` of a link. */
import { linkText } from '$lib/formats/shareLink';
import { refuse, type Result } from '$lib/result';
import type { Kind } from '$lib/storage/kind';

/** The text of the link; a sentence where it cannot be one. */
export function documentLink<T>(of: Kind<T>, value: T): Result<string, string> {
  const { kind } = of;
  return kind === 'practice'
    ? refuse('What was practised travels as a file.')
    : linkText({ kind, text: of.write(value) });
}
