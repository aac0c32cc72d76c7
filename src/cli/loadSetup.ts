/** `--setup`: the id of a built-in setup, or the path of a file. */
import { BUILT_IN_IDS, builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { faultText } from '$lib/faults';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { readFileText } from './files';
import { Refusal } from './out';

/** The setup that `--setup` names; one that cannot be used is refused with every fault. */
export function loadSetup(idOrPath: string): Setup {
  if (isBuiltInId(idOrPath)) return builtIn(idOrPath);
  if (!/[./\\]/.test(idOrPath))
    throw new Refusal(
      `There is no built-in setup “${idOrPath}”; there are ${BUILT_IN_IDS.join(', ')}. A file is named with its ending, such as mine.json.`,
      1,
    );
  const read = readSetupText(readFileText(idOrPath));
  if (!read.ok)
    throw new Refusal(
      [
        `${idOrPath} is not a setup that can be used:`,
        ...read.error.map((f) => `  ${faultText(f)}`),
      ],
      1,
      read.error,
    );
  return read.value;
}
