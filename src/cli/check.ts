/** `gripwright check FILE`: every fault of a setup file. */
import { faultText } from '$lib/faults';
import { builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { combinationCount } from '$lib/setup/reach';
import { ok } from '$lib/result';
import { readSetupText } from '$lib/setup/readSetup';
import { readFileText } from './files';
import { countText, print, printJson, type ExitCode } from './out';

/** Tells every fault of a file, or what a good setup has; 1 where there are faults. */
export function check(path: string, { json }: { json?: boolean }): ExitCode {
  const read = isBuiltInId(path) ? ok(builtIn(path)) : readSetupText(readFileText(path));
  if (json) printJson({ ok: read.ok, faults: read.ok ? [] : read.error });
  if (!read.ok) {
    const count = read.error.length;
    const faults = count === 1 ? 'one fault' : `${count} faults`;
    console.error(
      [`${path} has ${faults}:`, ...read.error.map((f) => `  ${faultText(f)}`)].join('\n'),
    );
    return 1;
  }
  if (!json) {
    const { name, necks, controls } = read.value;
    const strings = necks.map(
      (neck) => `${neck.name} with ${countText(neck.strings.length, 'string')}`,
    );
    print(
      `${path} is a good setup: “${name}”, ${strings.join(' and ')}, ${countText(controls.length, 'control')}, ${countText(combinationCount(read.value), 'reachable combination')}.`,
    );
  }
  return 0;
}
