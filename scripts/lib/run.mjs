import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { setPriority } from 'node:os';
import { join } from 'node:path';
import { inRoot, root } from './root.mjs';

/**
 * Runs a program in the project's folder and hands its output straight on. Gives its exit code.
 * With `onStderr`, all it prints goes to standard error. With `quiet`, it is kept back and only
 * shown if the program fails; with `mute`, not even then. With `limitMs`, the program is ended
 * after that time. With `patient`, it takes what time of the processor others leave.
 *
 * @param {string} command
 * @param {readonly string[]} args
 * @param {{ onStderr?: boolean, quiet?: boolean, mute?: boolean, limitMs?: number, patient?: boolean, env?: Record<string, string> }} [how]
 * @returns {Promise<number>}
 */
export function run(command, args, { onStderr, quiet, mute, limitMs, patient, env } = {}) {
  return new Promise((done) => {
    const out = mute ? 'ignore' : quiet ? 'pipe' : onStderr ? 2 : 'inherit';
    const child = spawn(command, args, {
      cwd: root,
      env: { ...process.env, ...env },
      stdio: [
        onStderr || quiet || mute ? 'ignore' : 'inherit',
        out,
        mute || quiet ? out : 'inherit',
      ],
      timeout: limitMs,
    });
    if (patient && child.pid !== undefined) giveWay(child.pid);
    /** @type {Buffer[]} */
    const kept = [];
    child.stdout?.on('data', (chunk) => kept.push(chunk));
    child.stderr?.on('data', (chunk) => kept.push(chunk));
    child.on('error', (error) => {
      process.stderr.write(`${command} could not be started: ${error.message}\n`);
      done(1);
    });
    child.on('close', (code) => {
      const result = code ?? 1;
      if (result !== 0) for (const chunk of kept) process.stderr.write(chunk);
      done(result);
    });
  });
}

/**
 * Below all others, and yet not so far that it has everything to do when they have ended. Whatever it starts from
 * here on gives way too.
 *
 * @param {number} pid
 */
function giveWay(pid) {
  try {
    setPriority(pid, 5);
  } catch {
    // a system that does not allow it, or a program that has ended already: nothing hangs on it
  }
}

/**
 * Runs npm, the same one that runs us when there is one.
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [how]
 */
export function npm(args, how) {
  const ours = process.env.npm_execpath ?? '';
  if (/npm-cli\.[cm]?js$/.test(ours)) return run(process.execPath, [ours, ...args], how);
  return run(process.platform === 'win32' ? 'npm.cmd' : 'npm', args, how);
}

/**
 * Runs an installed tool, by the name of its package.
 * @param {string} name
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [how]
 */
export function tool(name, args, how) {
  const home = inRoot('node_modules', name);
  /** @type {{ bin: string | Record<string, string> }} */
  const { bin } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8'));
  const file = typeof bin === 'string' ? bin : Object.values(bin)[0];
  return run(process.execPath, [join(home, file ?? ''), ...args], how);
}
