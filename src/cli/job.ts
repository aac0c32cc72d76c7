/** What every job of the command line is made with; each job stands in a file of its own. */
import type { EventEmitter } from 'node:events';
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { InvalidArgumentError, type Command } from 'commander';
import { namesOption } from './options';
import { Refusal } from './out';

/** Makes a job that has `--json` and `--names`, and `--setup` unless it needs no setup. */
export type MakeJob = (words: string, description: string, withSetup?: boolean) => Command;

/** Makes jobs of one program. */
export const jobsOf =
  (program: Command): MakeJob =>
  (words, description, withSetup = true) => {
    const command = program.command(words).description(description).exitOverride();
    if (withSetup)
      command.option(
        '--setup <file or id>',
        'a setup file, or the id of a built-in setup',
        USUAL_SETUP,
      );
    return command
      .option('--json', 'print one JSON document and nothing else')
      .addOption(namesOption());
  };

/** For options that may be given several times, each time with one more. */
export const collect = (text: string, before: readonly string[] = []): string[] => [
  ...before,
  text,
];

/** Refuses an option of one value that is given twice; which of them was meant nobody can know. */
export function onceEach(program: Command): void {
  for (const command of program.commands)
    for (const option of command.options) {
      const takesOne = (option.required || option.optional) && !option.variadic;
      if (!takesOne || option.parseArg === collect) continue;
      let given = false;
      // before the second value is looked at, which may be wrong in itself
      (command as unknown as EventEmitter).prependListener(`option:${option.name()}`, () => {
        if (given)
          throw new Refusal(`--${option.name()}: found it more than once; allowed is once.`, 2);
        given = true;
      });
    }
}

/** For options that take a whole number; anything else is wrong usage. */
export function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('A whole number is wanted.');
  return Number(text);
}
