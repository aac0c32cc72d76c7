/** A question on the terminal that is answered with yes or no. */
import { createInterface, type Interface } from 'node:readline/promises';
import { cleaned } from './out';
import { terminal } from './terminal';

/** Yes is only what is written out as yes: Ctrl+C and the end of what is typed are a no as well. */
export async function saysYes(lines: Interface, question: string): Promise<boolean> {
  const ended = new Promise<string>((resolve) => {
    lines.once('close', () => {
      resolve('');
    });
  });
  try {
    const answer = await Promise.race([lines.question(cleaned(question)).catch(() => ''), ended]);
    return /^y(es)?$/iu.test(answer.trim());
  } finally {
    lines.close();
  }
}

/** Asks on the terminal whether something may be done; nobody is asked where none looks on. */
export const askAtTerminal = async (question: string): Promise<boolean> => {
  if (!terminal().asks) return true;
  // beside the answer, which may be JSON
  return saysYes(createInterface({ input: process.stdin, output: process.stderr }), question);
};
