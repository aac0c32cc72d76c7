// What the test runners write down of a run, and how it is counted.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { inRoot } from './root.mjs';

export const UNIT_REPORT = 'test-results/unit.json';
export const BROWSER_REPORT = 'test-results/browser.json';

/**
 * Of vitest's report, what is read here. Batteries leave the number of their cases in `meta`.
 *
 * @typedef {{ numPassedTests: number, numFailedTests: number, testResults: { name: string,
 *   assertionResults: { fullName: string, status: string, duration?: number | null,
 *   meta?: { cases?: number } }[] }[] }} UnitReport
 */

/**
 * Of Playwright's report, what is read here.
 *
 * @typedef {{ title: string, file: string, suites?: Suite[], specs: { title: string, file: string,
 *   tests: { status: string }[] }[] }} Suite
 * @typedef {{ stats: { expected: number, flaky: number, unexpected: number }, suites: Suite[] }} BrowserReport
 */

/** Removes a report of an earlier run, so that it is not counted again. */
export function forget(/** @type {string} */ report) {
  rmSync(inRoot(report), { force: true });
}

/** @returns {UnitReport | undefined} */
export const unitReport = () => read(UNIT_REPORT);

/** @returns {BrowserReport | undefined} */
export const browserReport = () => read(BROWSER_REPORT);

function read(/** @type {string} */ report) {
  return existsSync(inRoot(report)) ? JSON.parse(readFileSync(inRoot(report), 'utf8')) : undefined;
}

/**
 * The tests of Playwright's report that failed at first and then passed.
 *
 * @param {Suite[]} suites
 * @returns {string[]}
 */
export function flakyIn(suites) {
  return suites.flatMap(({ specs, suites: within = [] }) => [
    ...specs
      .filter(({ tests }) => tests.some(({ status }) => status === 'flaky'))
      .map(({ file, title }) => `${file}: ${title}`),
    ...flakyIn(within),
  ]);
}
