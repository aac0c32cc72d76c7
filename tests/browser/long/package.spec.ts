/** The package, made and installed in an empty folder: its commands run, and its types hold. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { inRoot } from '../../../scripts/lib/root.mjs';

test('it installs in an empty folder, with nothing besides, and works there', () => {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-package-'));
  const run = (command: string, args: readonly string[], cwd = folder): string =>
    execFileSync(command, args, { cwd, encoding: 'utf8' });
  try {
    run('npm', ['pack', '--silent', '--pack-destination', folder], inRoot());
    const [tarball = ''] = readdirSync(folder).filter((name) => name.endsWith('.tgz'));
    writeFileSync(join(folder, 'package.json'), '{ "private": true, "type": "module" }');
    run('npm', ['install', '--silent', '--offline', `./${tarball}`]);
    expect(
      readdirSync(join(folder, 'node_modules')).filter((name) => !name.startsWith('.')),
    ).toEqual(['gripwright']);
    expect(run('npx', ['--no-install', 'gripwright', 'setups'])).toContain('universal12');
    // its worker threads come along
    const few = ['suggest', '--station', 'P4', '--strings-up-to', '1', '--limit', '1', '--json'];
    expect(run('npx', ['--no-install', 'gripwright', ...few])).toContain('"best"');
    writeFileSync(
      join(folder, 'typed.ts'),
      `import { answer, builtIn, readQuestion, type Question, type Setup } from 'gripwright';
       const setup: Setup = builtIn('e9');
       const read = readQuestion(setup, { chord: 'Am7' });
       if (!read.ok) throw new Error(read.error[0]?.found);
       const question: Question = read.value;
       const count: number = answer(setup, question).count;
       console.log(count);
       // @ts-expect-error a chord is a text
       readQuestion(setup, { chord: 3 });`,
    );
    const tsc = inRoot('node_modules/typescript/bin/tsc');
    const how = ['--strict', '--module', 'nodenext', '--target', 'es2023', '--types', 'node'];
    const roots = ['--typeRoots', inRoot('node_modules/@types')];
    run(process.execPath, [tsc, '--noEmit', ...how, ...roots, 'typed.ts']);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
