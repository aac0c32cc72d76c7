// What ESLint asks the types of, components and state classes, as one program that is put together once.
import { readFileSync } from 'node:fs';
import { parseForESLint } from 'svelte-eslint-parser';
import ts from 'typescript';
import { parser } from 'typescript-eslint';
import svelteConfig from '../../svelte.config.js';
import { inRoot, root } from './root.mjs';

/** Components and state classes: files that TypeScript does not read as they stand. */
const HAS_RUNES = /\.svelte(\.ts)?$/;

/**
 * Left to itself, typescript-eslint opens each component as a change to the project, and each change has a
 * new checker look at the types from the beginning: half the time of the whole reading. Here the scripts of
 * components and state classes are in the program from the start, as their parser will hand them over. A file that is
 * changed while the program lives is not seen, so this is for reading everything once; editors and
 * `eslint FILE` go without.
 *
 * @returns {ts.Program}
 */
export function lintProgram() {
  const config = inRoot('tests/tsconfig.json');
  const { fileNames, options } = ts.parseJsonConfigFileContent(
    ts.readConfigFile(config, (name) => ts.sys.readFile(name)).config,
    ts.sys,
    inRoot('tests'),
    undefined,
    config,
    undefined,
    [{ extension: '.svelte', isMixedContent: true, scriptKind: ts.ScriptKind.Deferred }],
  );
  const whole = { ...options, allowNonTsExtensions: true };
  const host = ts.createCompilerHost(whole, true);
  const read = host.getSourceFile.bind(host);
  host.getCurrentDirectory = () => root;
  host.getSourceFile = (name, language, ...rest) =>
    HAS_RUNES.test(name)
      ? ts.createSourceFile(name, scriptOf(name), language, true, ts.ScriptKind.TS)
      : read(name, language, ...rest);
  // what they import comes along by itself
  const begun = fileNames.filter((name) => HAS_RUNES.test(name) || name.endsWith('.d.ts'));
  return ts.createProgram(begun, whole, host);
}

/** What TypeScript is to see of it: the script with its runes declared, and the markup as expressions. */
function scriptOf(/** @type {string} */ filePath) {
  const { _virtualScriptCode: script } = /** @type {{ _virtualScriptCode?: string }} */ (
    /** @type {unknown} */ (
      parseForESLint(readFileSync(filePath, 'utf8'), { filePath, parser, svelteConfig })
    )
  );
  if (script === undefined) throw new Error(`svelte-eslint-parser gave no script of ${filePath}`);
  return script;
}
