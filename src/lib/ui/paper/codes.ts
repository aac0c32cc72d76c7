/** The codes of sheets that the page makes: what a link carries, loaded with the first of them. */
import type { SheetCode } from '$lib/formats/sheetCode';
import type { Setup } from '$lib/setup/setup';
import type { StoredProgression } from '$lib/storage/progressionKind';
import { paperAddress } from './paperAddress.svelte';

/** The code of a sheet about a setup; `beyond` says what the setup's link does not hold. */
export async function setupCode(setup: Setup, beyond?: string): Promise<SheetCode> {
  // asked for at once: whoever sets another has the sheet drawn again
  const address = paperAddress.now;
  const [{ linkText }, { setupKind }] = await Promise.all([
    import('$lib/formats/shareLink'),
    import('$lib/storage/kind'),
  ]);
  return {
    address,
    link: linkText({ kind: 'setup', text: setupKind.write(setup) }),
    opens: 'this setup',
    ...(beyond === undefined ? {} : { beyond }),
  };
}

/** The code of a sheet about a piece. The setup is named in its link; one that comes with the program is found by that. */
export async function pieceCode(value: StoredProgression, setup: Setup): Promise<SheetCode> {
  const address = paperAddress.now;
  const [{ codeOfPiece }, { pieceTexts }] = await Promise.all([
    import('$lib/formats/pieceCode'),
    import('./pieceTexts'),
  ]);
  return codeOfPiece(pieceTexts(value), { id: value.setup, name: setup.name }, address);
}

/** The code of what a place answers; none where it answers no document. */
export const answeredCode = async ({
  asked,
  setup,
}: {
  readonly asked?: StoredProgression;
  readonly setup: Setup;
}): Promise<SheetCode | undefined> => (asked === undefined ? undefined : pieceCode(asked, setup));
