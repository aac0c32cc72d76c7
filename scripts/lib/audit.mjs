// Asks the registry whether anything known is wrong with the packages that are installed.
import { spawn } from 'node:child_process';
import { root } from './root.mjs';
import { say } from './say.mjs';

const LIMIT_MS = 60_000;
/** What stops a build; what is less is told. */
const GRAVE = ['high', 'critical'];

/**
 * 0 where nothing grave is known, or where the registry answers no audit: then nothing was looked
 * at, and it is said so.
 *
 * @returns {Promise<number>}
 */
export async function audit() {
  const report = readReport(await npmAudit());
  if (report === undefined) {
    say('The registry answers no audit here, so the packages were not looked at.');
    return 0;
  }
  const found = Object.values(report.vulnerabilities);
  for (const { name, severity, range } of found) console.log(`${severity}: ${name} ${range}`);
  const grave = found.filter(({ severity }) => GRAVE.includes(severity));
  console.log(`${found.length} packages with known faults, ${grave.length} of them grave.`);
  return grave.length === 0 ? 0 : 1;
}

/** @returns {Promise<string>} */
function npmAudit() {
  return new Promise((done) => {
    const ours = process.env.npm_execpath ?? '';
    const byNode = /npm-cli\.[cm]?js$/.test(ours);
    const command = byNode ? process.execPath : process.platform === 'win32' ? 'npm.cmd' : 'npm';
    const args = [...(byNode ? [ours] : []), 'audit', '--json'];
    const child = spawn(command, args, {
      cwd: root,
      timeout: LIMIT_MS,
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    let out = '';
    child.stdout.on('data', (chunk) => (out += String(chunk)));
    child.on('error', () => done(''));
    child.on('close', () => done(out));
  });
}

/**
 * A report of npm, or nothing where it says that it could not ask.
 *
 * @param {string} text
 * @returns {{ vulnerabilities: Record<string, { name: string, severity: string, range: string }> } | undefined}
 */
export function readReport(text) {
  try {
    const report = JSON.parse(text);
    return typeof report.vulnerabilities === 'object' ? report : undefined;
  } catch {
    return undefined;
  }
}
