/** What every job of the command line is made with; each job stands in a file of its own. */
import { InvalidArgumentError, type Command } from 'commander';

/** Makes a job that has `--json`, and `--setup` unless it needs no setup. */
export type MakeJob = (words: string, description: string, withSetup?: boolean) => Command;

/** Makes jobs of one program. */
export const jobsOf =
  (program: Command): MakeJob =>
  (words, description, withSetup = true) => {
    const command = program.command(words).description(description).exitOverride();
    if (withSetup)
      command.option('--setup <file or id>', 'a setup file, or the id of a built-in setup', 'e9');
    return command.option('--json', 'print one JSON document and nothing else');
  };

/** For options that take a whole number; anything else is wrong usage. */
export function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('A whole number is wanted.');
  return Number(text);
}
