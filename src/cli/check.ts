/** `gripwright check FILE`: every fault of a setup file. */
import { faultText } from '$lib/faults';
import { builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { combinationCount } from '$lib/setup/reach';
import { ok } from '$lib/result';
import { readSetupText } from '$lib/setup/readSetup';
import { readFileText } from './files';
import { Refusal, countText, print, printJson } from './out';

/** Tells every fault of a file, or what a good setup has. */
export function check(path: string, { json }: { json?: boolean }): void {
  const read = isBuiltInId(path) ? ok(builtIn(path)) : readSetupText(readFileText(path));
  if (!read.ok) {
    const count = read.error.length;
    const faults = count === 1 ? 'one fault' : `${count} faults`;
    const error = [`${path} has ${faults}:`, ...read.error.map((f) => `  ${faultText(f)}`)];
    if (json) printJson({ ok: false, error: error.join('\n'), faults: read.error });
    throw new Refusal(error, 1, read.error);
  }
  if (json) printJson({ ok: true, faults: [] });
  else {
    const { name, necks, controls } = read.value;
    const strings = necks.map(
      (neck) => `${neck.name} with ${countText(neck.strings.length, 'string')}`,
    );
    print(
      `${path} is a good setup: “${name}”, ${strings.join(' and ')}, ${countText(controls.length, 'control')}, ${countText(combinationCount(read.value), 'reachable combination')}.`,
    );
  }
}
