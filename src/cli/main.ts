/** The command line as a process: its words, its streams, its exit code. */
import { say } from './out';
import { run } from './run';

let unwritten = false;

// a reader such as `head` may close the pipe before everything is written
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return;
  say(`The answer could not be written (${error.code ?? error.message}).`);
  unwritten = true;
  process.exitCode = 1;
});

const code = await run(process.argv.slice(2), {
  out: process.stdout,
  err: process.stderr,
  folder: process.cwd(),
  asks: process.stdin.isTTY && process.stdout.isTTY,
});
// not process.exit: what is still on its way to a pipe would be cut off
process.exitCode = unwritten ? 1 : code;
