/** The setups that come with the program, by the name of their file in `shared/setups/`. */
import c6 from '../../../shared/setups/c6.json';
import double from '../../../shared/setups/double.json';
import e9 from '../../../shared/setups/e9.json';
import lap6A6 from '../../../shared/setups/lap6-a6.json';
import lap6C6 from '../../../shared/setups/lap6-c6.json';
import lap8C6 from '../../../shared/setups/lap8-c6.json';
import square6G from '../../../shared/setups/square6-g.json';
import universal12 from '../../../shared/setups/universal12.json';
import type { Setup } from './setup';
import type { SetupFile } from './setupFile';
import { setupOf } from './setupOf';

const FILES = {
  e9,
  c6,
  universal12,
  double,
  'lap6-c6': lap6C6,
  'lap8-c6': lap8C6,
  'lap6-a6': lap6A6,
  'square6-g': square6G,
} as const satisfies Record<string, unknown>;

export type BuiltInId = keyof typeof FILES;

/** The setup that is meant where none is named. */
export const USUAL_SETUP = 'e9' satisfies BuiltInId;

/** The ids of the setups that come with the program, in the order in which they are listed. */
export const BUILT_IN_IDS = Object.keys(FILES) as readonly BuiltInId[];

/** Is a text the id of a setup that comes with the program? */
export const isBuiltInId = (text: string): text is BuiltInId => Object.hasOwn(FILES, text);

const read = new Map<BuiltInId, Setup>();

/**
 * A built-in setup; made once, then remembered. That each of these files is one that the reader takes is
 * for the tests to say: no page waits for it.
 */
export function builtIn(id: BuiltInId): Setup {
  let setup = read.get(id);
  if (setup === undefined) {
    // the types of JSON know texts and numbers, and not which of them a file may say
    setup = setupOf(FILES[id] as unknown as SetupFile);
    read.set(id, setup);
  }
  return setup;
}
