// npm test: everything that must hold, in order, stopping at the first step that fails.
// `npm test -- unit browser` runs only the steps named. The last line is "N passed, N failed",
// counted from the test runners' own reports; the lines before it name what passed at a second try.
import { mkdirSync } from 'node:fs';
import { audit } from './lib/audit.mjs';
import { ensureApp } from './lib/build.mjs';
import { findChromium } from './lib/chromium.mjs';
import { freePort } from './lib/freePort.mjs';
import { ensureInstalled } from './lib/install.mjs';
import {
  BROWSER_REPORT,
  UNIT_REPORT,
  browserReport,
  flakyIn,
  forget,
  unitReport,
} from './lib/reports.mjs';
import { inRoot } from './lib/root.mjs';
import { npm, tool } from './lib/run.mjs';
import { giveUp, say } from './lib/say.mjs';

const count = { passed: 0, failed: 0 };
/** Tests that passed only at a second try, by name. @type {string[]} */
const flaky = [];

/** Each step gives its exit code. @type {Record<string, () => Promise<number>>} */
const STEPS = {
  // the tests of the command line find theirs built
  build: async () => {
    const code = await script('build', '--logLevel=warn');
    return code !== 0 ? code : script('build:cli', '--logLevel=warn');
  },
  unit: async () => {
    forget(UNIT_REPORT);
    const reporters = ['--reporter=default', '--reporter=json'];
    const code = await script('check:unit', ...reporters, `--outputFile.json=${UNIT_REPORT}`);
    const report = unitReport();
    count.passed += report?.numPassedTests ?? 0;
    count.failed += report?.numFailedTests ?? 0;
    return code;
  },
  browser: async () => {
    if (!chosen.includes('build')) await ensureApp();
    forget(BROWSER_REPORT);
    process.env.GRIPWRIGHT_TEST_PORT = String(await freePort());
    const code = await script('check:browser');
    const report = browserReport();
    count.passed += (report?.stats.expected ?? 0) + (report?.stats.flaky ?? 0);
    count.failed += report?.stats.unexpected ?? 0;
    flaky.push(...flakyIn(report?.suites ?? []));
    return code;
  },
  // what only reads the code is waited for at the end, the shortest first
  format: () => readThrough('format'),
  types: () => readThrough('types'),
  lint: () => readThrough('lint'),
  audit,
};

const HEADINGS = {
  build: 'Do the site and the command line build?',
  unit: 'Do the unit, property and reference tests pass?',
  browser: 'Do the tests in the browser pass?',
  format: 'Is every file laid out by one rule?',
  types: 'Do the types agree?',
  lint: 'Does the code keep its rules, the storeys among them?',
  audit: 'Is anything known to be wrong with the packages?',
};

const names = Object.keys(STEPS);
const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  giveUp(`There is no step called ${unknown.join(', ')}; the steps are ${names.join(', ')}.`);
}
const chosen = asked.length === 0 ? names : names.filter((name) => asked.includes(name));

await ensureInstalled();
// the unit step listens to what a browser renders
if (chosen.includes('unit') || chosen.includes('browser')) {
  process.env.GRIPWRIGHT_CHROMIUM = await findChromium();
  say(`The tests in a browser will use ${process.env.GRIPWRIGHT_CHROMIUM}.`);
}
mkdirSync(inRoot('test-results'), { recursive: true });

/**
 * These only read the code, so they run beside everything else, and give way to it: building leaves half a core
 * free, and tests in the browser wait a third of their time.
 * @type {Map<string, Promise<number>>}
 */
const reading = new Map();
/** Those of them that have failed already: nobody waits for the end to hear of it. @type {string[]} */
const refused = [];
const READERS = ['lint', 'types', 'format'];
if (READERS.some((name) => chosen.includes(name))) {
  // lint and types both lean on what SvelteKit writes, and neither may find it half written
  await tool('@sveltejs/kit', ['sync'], { quiet: true });
  for (const name of READERS)
    if (chosen.includes(name))
      reading.set(
        name,
        npm(['run', '--silent', `check:${name}`], { quiet: true, patient: true }).then((code) => {
          if (code !== 0) refused.push(name);
          return code;
        }),
      );
}

process.exitCode = await runSteps();
if (flaky.length > 0) console.log(['\nPassed only at the second try:', ...flaky].join('\n  '));
console.log(`\n${count.passed} passed, ${count.failed} failed`);

async function runSteps() {
  for (const next of chosen) {
    const name = refused[0] ?? next;
    const at = chosen.indexOf(name);
    const heading = HEADINGS[/** @type {keyof typeof HEADINGS} */ (name)];
    console.log(`\n== ${at + 1} of ${chosen.length}: ${name}. ${heading}`);
    const begun = performance.now();
    const failedBefore = count.failed;
    const code = (await STEPS[name]?.()) ?? 1;
    const seconds = ((performance.now() - begun) / 1000).toFixed(1);
    if (code !== 0) {
      // A step that fails without a failed test to count is itself one failure.
      if (count.failed === failedBefore) count.failed += 1;
      console.log(`-- ${name} failed after ${seconds} s.`);
      return code;
    }
    console.log(`-- ${name} took ${seconds} s.`);
  }
  return 0;
}

/** What a check that was begun before gives; its words are shown where it fails. */
async function readThrough(/** @type {string} */ name) {
  return (await reading.get(name)) ?? 1;
}

/** Runs a script of package.json, so that each step is what people run by hand. */
function script(/** @type {string} */ name, /** @type {string[]} */ ...args) {
  return npm(['run', '--silent', name, ...(args.length > 0 ? ['--', ...args] : [])]);
}
