/**
 * Loaded before every test file. Properties get their chance from the one seed and tell their figures;
 * what a file put in the place of globals is put back for the next one, which shares its modules.
 */
import fc from 'fast-check';
import { afterAll, TestRunner, vi } from 'vitest';
import { repeatWith, runs } from './battery';
import { SEED } from './seed';

afterAll(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

fc.configureGlobal({
  seed: SEED,
  numRuns: runs(100),
  reporter: (ran) => {
    const test = TestRunner.getCurrentTest();
    if (ran.failed) {
      const repeat = test === undefined ? '' : `\n${repeatWith(test.file.filepath)}`;
      throw new Error(`${fc.defaultReportMessage(ran)}${repeat}`, { cause: ran.errorInstance });
    }
    if (test === undefined) return;
    const meta = test.meta as { cases?: number };
    meta.cases = (meta.cases ?? 0) + ran.numRuns;
  },
});
