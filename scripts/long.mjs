// npm run check:long: every battery whole, each time with chance from a new seed; the last line is
// "N passed, N failed". `npm run check:long -- manyFiles` runs the batteries named, and
// GRIPWRIGHT_SEED=7 before it those of that seed again.
import { existsSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { randomInt } from 'node:crypto';
import { basename, join } from 'node:path';
import { ensureApp } from './lib/build.mjs';
import { findChromium } from './lib/chromium.mjs';
import { freePort } from './lib/freePort.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { BROWSER_REPORT, UNIT_REPORT, browserReport, forget, unitReport } from './lib/reports.mjs';
import { inRoot } from './lib/root.mjs';
import { npm } from './lib/run.mjs';
import { giveUp } from './lib/say.mjs';

/** A battery's name is that of its file. */
const nameOf = (/** @type {string} */ file) => basename(file).replace(/\.(test|spec)\.ts$/, '');
/** What makes a test file a battery: cases from the one seed, as many as are asked for. */
const CHANCE = /^import .*(?:'fast-check'|\/battery'|\/seed');$/m;

const units = filesIn('tests', '.test.ts').filter((file) =>
  CHANCE.test(readFileSync(inRoot(file), 'utf8')),
);
const walks = filesIn('tests/browser/long', '.spec.ts');

const asked = process.argv.slice(2);
const names = new Set([...units, ...walks].map(nameOf));
const unknown = asked.filter((name) => !names.has(name));
if (unknown.length > 0) {
  const all = [...names].sort().join(', ');
  giveUp(`There is no battery called ${unknown.join(', ')}; the batteries are ${all}.`);
}
const chosen = (/** @type {string} */ file) => asked.length === 0 || asked.includes(nameOf(file));

const seed = process.env.GRIPWRIGHT_SEED || String(randomInt(1_000_000_000));
process.env.GRIPWRIGHT_SEED = seed;
process.env.GRIPWRIGHT_LONG = '1';
const count = { passed: 0, failed: 0 };

await ensureInstalled();
mkdirSync(inRoot('test-results'), { recursive: true });
console.log(`Seed ${seed}.`);
const codes = [await runUnits(units.filter(chosen)), await runWalks(walks.filter(chosen))];
process.exitCode = codes.find((code) => code !== 0) ?? 0;
// what fails without a failed test to count is itself one failure
if (process.exitCode !== 0 && count.failed === 0) count.failed = 1;
console.log(`\n${count.passed} passed, ${count.failed} failed`);

async function runUnits(/** @type {string[]} */ files) {
  if (files.length === 0) return 0;
  forget(UNIT_REPORT);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${UNIT_REPORT}`];
  // those that listen do so in a browser
  process.env.GRIPWRIGHT_CHROMIUM = await findChromium();
  const args = ['run', '--silent', 'check:unit', '--', ...reporters, ...files];
  const code = await npm(args);
  const report = unitReport();
  count.passed += report?.numPassedTests ?? 0;
  count.failed += report?.numFailedTests ?? 0;
  console.log(`\nCases and seconds of each battery, with seed ${seed}`);
  for (const { name, assertionResults } of report?.testResults ?? [])
    for (const { fullName, status, duration, meta } of assertionResults) {
      if (meta?.cases === undefined) continue;
      const cases = meta.cases.toLocaleString('en').padStart(9);
      const seconds = ((duration ?? 0) / 1000).toFixed(1).padStart(7);
      console.log(
        `${cases} ${seconds} s  ${nameOf(name)}: ${fullName}${status === 'passed' ? '' : ` (${status})`}`,
      );
    }
  return code;
}

async function runWalks(/** @type {string[]} */ files) {
  if (files.length === 0) return 0;
  process.env.GRIPWRIGHT_CHROMIUM = await findChromium();
  await ensureApp();
  forget(BROWSER_REPORT);
  process.env.GRIPWRIGHT_TEST_PORT ||= String(await freePort());
  const code = await npm(['run', '--silent', 'check:browser', '--', '--project=long', ...files]);
  const report = browserReport();
  count.passed += report?.stats.expected ?? 0;
  count.failed += report?.stats.unexpected ?? 0;
  return code;
}

/** @param {string} folder @param {string} ending @returns {string[]} */
function filesIn(folder, ending) {
  if (!existsSync(inRoot(folder))) return [];
  return readdirSync(inRoot(folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending))
    .map((file) => join(folder, file))
    .sort();
}
