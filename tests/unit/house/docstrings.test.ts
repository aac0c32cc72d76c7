/** What a storey gives to the others says what it means: every export has a doc comment. */
import { readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { PURE } from '../../../scripts/lib/storeys.mjs';

/** The pure storeys that are held to it. */
const DOCUMENTED = [
  'theory',
  'setup',
  'search',
  'effort',
  'strings',
  'tuning',
  'arrange',
  'coverage',
  'playing',
  'rendering',
  'formats',
];

const LIB = fileURLToPath(new URL('../../../src/lib/', import.meta.url));

const filesOf = (storey: string): string[] =>
  readdirSync(LIB + storey, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `${storey}/${name}`);

const isExported = (node: ts.Node): boolean =>
  ts.canHaveModifiers(node) &&
  (ts.getModifiers(node) ?? []).some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);

/** The functions, classes and constants that a file exports without a doc comment. */
function undocumented(name: string, text: string): string[] {
  const file = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  return file.statements.flatMap((node) => {
    const hasValue =
      ts.isFunctionDeclaration(node) || ts.isClassDeclaration(node) || ts.isVariableStatement(node);
    if (!hasValue || !isExported(node)) return [];
    if (ts.getJSDocCommentsAndTags(node).some(ts.isJSDoc)) return [];
    const names = ts.isVariableStatement(node)
      ? node.declarationList.declarations.map((each) => each.name.getText(file))
      : [node.name?.text ?? 'default'];
    return names.map((each) => `${name}: ${each}`);
  });
}

it('finds what has none', () => {
  const text = `
    /** Said. */
    export const a = 1;
    export const b = 2;
    export function c() {}
    /** Said. */
    export class D {}
    const e = 3;
    export interface F {}
  `;
  expect(undocumented('file.ts', text)).toEqual(['file.ts: b', 'file.ts: c']);
});

it.each(DOCUMENTED)('%s says what each of its exports means', (storey) => {
  expect(PURE).toContain(storey);
  const files = filesOf(storey);
  expect(files.length).toBeGreaterThan(0);
  expect(files.flatMap((name) => undocumented(name, readFileSync(LIB + name, 'utf8')))).toEqual([]);
});
