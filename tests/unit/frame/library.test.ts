/**
 * The library: its public names stand in `src/library.ts` alone, the changelog tells each with how it is
 * called, and the examples of the README run.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { build } from 'vite';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';

const read = (path: string): string => readFileSync(inRoot(path), 'utf8');

/** One line of text, as people would type it. */
const plain = (text: string): string =>
  text
    .replace(/\s+/gu, ' ')
    .replace(/ ?([(){}]) ?/gu, '$1')
    .replace(/,\)/gu, ')')
    .trim();

/** The exported statement of a file that says a name. */
function declared(file: string, name: string): { source: ts.SourceFile; found: ts.Node } {
  const source = ts.createSourceFile(file, read(file), ts.ScriptTarget.ES2023, true);
  for (const statement of source.statements) {
    if (ts.isVariableStatement(statement))
      for (const each of statement.declarationList.declarations)
        if (each.name.getText() === name) return { source, found: each };
    if (ts.isFunctionDeclaration(statement) && statement.name?.text === name)
      return { source, found: statement };
  }
  throw new Error(`${file} does not say ${name}`);
}

/** `answer(setup: Setup, question: Question): RankedVoicings`, or the bare name of what is not called. */
function signature(file: string, name: string): string {
  const { found } = declared(file, name);
  const called =
    ts.isVariableDeclaration(found) && found.initializer && ts.isArrowFunction(found.initializer)
      ? found.initializer
      : ts.isFunctionDeclaration(found)
        ? found
        : undefined;
  if (called === undefined) return name;
  const given = called.parameters
    .map((each) => {
      const optional = each.questionToken !== undefined || each.initializer !== undefined;
      const name = ts.isIdentifier(each.name) ? each.name.text : 'of';
      return `${name}${optional ? '?' : ''}: ${plain(each.type?.getText() ?? typeof 0)}`;
    })
    .join(', ');
  return plain(`${name}(${given}): ${called.type?.getText() ?? '?'}`);
}

/** Every public name: functions with how they are called, types as `type X`. */
function publicNames(): string[] {
  const path = 'src/library.ts';
  const source = ts.createSourceFile(path, read(path), ts.ScriptTarget.ES2023, true);
  return source.statements.flatMap((statement): string[] => {
    if (ts.isExportDeclaration(statement) && statement.exportClause && statement.moduleSpecifier) {
      if (!ts.isNamedExports(statement.exportClause))
        throw new Error('public names are told one by one');
      const from = `src/lib/${(statement.moduleSpecifier as ts.StringLiteral).text.slice('$lib/'.length)}.ts`;
      return statement.exportClause.elements.map((each) =>
        statement.isTypeOnly || each.isTypeOnly
          ? `type ${each.name.text}`
          : signature(from, each.name.text),
      );
    }
    const exported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
    if (exported !== true) return [];
    if (ts.isFunctionDeclaration(statement) && statement.name)
      return [signature(path, statement.name.text)];
    if (ts.isVariableStatement(statement))
      return statement.declarationList.declarations.map((each) =>
        signature(path, each.name.getText()),
      );
    throw new Error(`not told here: ${statement.getText().slice(0, 60)}`);
  });
}

/** What the changelog says is public: added and removed, from the first version to the last. */
function toldNames(): string[] {
  const told = new Set<string>();
  const versions = read('CHANGELOG.md').split(/^## /mu).slice(1).reverse();
  for (const version of versions) {
    for (const [, what, list = ''] of version.matchAll(
      /^### Public names (added|removed)\n([^#]*)/gmu,
    ))
      for (const [, name = ''] of list.matchAll(/^- `([^`]+)`/gmu))
        if (what === 'added') told.add(plain(name));
        else if (!told.delete(plain(name))) throw new Error(`removed and never added: ${name}`);
  }
  return [...told].sort();
}

it('a public name that is added, removed or called otherwise is told in the changelog', () => {
  expect(publicNames().sort()).toEqual(toldNames());
});

it('the changelog begins with the version of the package', () => {
  const { version } = JSON.parse(read('package.json')) as { version: string };
  expect(/^## (\S+)/mu.exec(read('CHANGELOG.md'))?.[1]).toBe(version);
});

it('whoever installs the package installs nothing besides', () => {
  const { dependencies = {} } = JSON.parse(read('package.json')) as { dependencies?: object };
  expect(dependencies).toEqual({});
});

const folder = mkdtempSync(join(tmpdir(), 'gripwright-library-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The code of the README that begins with a remark. */
function example(language: string, begin: string): string {
  const all = [
    ...read('README.md').matchAll(new RegExp(`^\`\`\`${language}\n([^]*?)^\`\`\``, 'gmu')),
  ];
  const found = all.map(([, code = '']) => code).filter((code) => code.startsWith(begin));
  expect(found, `examples that begin with ${begin}`).toHaveLength(1);
  return found[0] ?? '';
}

beforeAll(async () => {
  await build({
    configFile: inRoot('scripts/vite.library.config.ts'),
    logLevel: 'error',
    build: { outDir: folder, emptyOutDir: false },
  });
});

it('the example for Node runs on the built library and says what stands beside it', async () => {
  const code = example('js', '// names.mjs');
  const file = join(folder, 'names.mjs');
  const library = pathToFileURL(join(folder, 'gripwright.js')).href;
  writeFileSync(file, code.replace("'gripwright'", JSON.stringify(library)));
  const said: string[] = [];
  const log = console.log;
  console.log = (...words: unknown[]) => said.push(words.join(' '));
  try {
    await import(/* @vite-ignore */ pathToFileURL(file).href);
  } finally {
    console.log = log;
  }
  const told = [...code.matchAll(/^\/\/ → (.*)$/gmu)].map(([, line = '']) => line.trim());
  expect(told.length).toBeGreaterThan(2);
  expect(said).toEqual(told);
});

it('the example for a plain page runs on the built library', async () => {
  const page = example('html', '<script type="module">');
  const code = page.replace(/^<script type="module">|<\/script>\s*$/gu, '');
  const library = pathToFileURL(join(folder, 'gripwright.js')).href;
  const file = join(folder, 'page.mjs');
  writeFileSync(
    file,
    code.replace(/'\S+\/dist\/library\/gripwright\.js'/u, JSON.stringify(library)),
  );
  const body = { textContent: '' };
  const there = globalThis as { document?: unknown };
  there.document = { body };
  try {
    await import(/* @vite-ignore */ pathToFileURL(file).href);
  } finally {
    delete there.document;
  }
  // C E G A: as the trade calls the C6 neck's own chord
  expect(body.textContent).toBe('C6, five pedals and three levers: C6');
});

it('the built library asks nothing of Node, so that a plain page can import it', () => {
  const script = readFileSync(join(folder, 'gripwright.js'), 'utf8');
  expect(script).not.toMatch(/^import\b/mu);
  expect(script).not.toMatch(/\b(?:process|require|__dirname|Buffer)\b[.(]/u);
});
