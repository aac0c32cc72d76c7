/** `gripwright setups`: the setups that come with the program. */
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { prettyPitch } from '$lib/theory/display';
import { print, printJson, table } from './out';

/** Prints the built-in setups with what their strings are tuned to. */
export function setups({ json }: { json?: boolean }): void {
  const all = BUILT_IN_IDS.map((id) => ({ id, setup: builtIn(id) }));
  if (json) {
    printJson(
      all.map(({ id, setup }) => ({
        id,
        name: setup.name,
        necks: setup.necks.map(({ name, strings }) => ({ name, strings: strings.length })),
        controls: setup.controls.length,
      })),
    );
    return;
  }
  const rows = all.map(({ id, setup }) => [
    id,
    setup.necks.map(({ strings }) => strings.length).join('+'),
    String(setup.controls.length),
    setup.name,
  ]);
  print(table(['id', 'strings', 'controls', 'name'], rows, [1, 2]));
  print('');
  for (const { id, setup } of all)
    for (const neck of setup.necks) {
      const strings = neck.strings.map(({ open }) => prettyPitch(open));
      print(`${id} · ${neck.name}: ${strings.join(' ')}`);
    }
}
