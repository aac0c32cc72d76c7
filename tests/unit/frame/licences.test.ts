/** Every package may be used, and the built program carries the licences of what it is made of. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readReport } from '../../../scripts/lib/audit.mjs';
import { ALLOWED, packages } from '../../../scripts/lib/licences.mjs';
import { inRoot } from '../../../scripts/lib/root.mjs';

it('every package of the lock file is under a licence that is allowed', () => {
  const odd = packages().filter(({ licence }) => !ALLOWED.includes(licence));
  expect(odd).toEqual([]);
});

it('the list that goes with the program names what it ships, at its version', () => {
  const listed = readFileSync(inRoot('static/licences.txt'), 'utf8');
  const shipped = packages().filter((each) => each.shipped);
  expect(shipped.map(({ name }) => name)).toContain('svelte');
  for (const { name, version, licence } of shipped)
    expect(listed, name).toContain(`${name} ${version}: ${licence}`);
});

it('an audit that was refused is told from one that found nothing', () => {
  // as npm prints them: npm 11, `npm audit --json`
  expect(
    readReport('{"error":{"code":"E405","summary":"audit endpoint returned an error"}}'),
  ).toBeUndefined();
  expect(readReport('{"message":"405 Method Not Allowed","method":"POST"}')).toBeUndefined();
  expect(readReport('')).toBeUndefined();
  expect(readReport('{"auditReportVersion":2,"vulnerabilities":{},"metadata":{}}')).toEqual({
    auditReportVersion: 2,
    vulnerabilities: {},
    metadata: {},
  });
});
