// npm run check:lint: the rules of the code. oxlint reads plain TypeScript and JavaScript with its types; ESLint reads
// components and state classes, with one program of all their types, and holds every file to the storeys.
import { tool } from './lib/run.mjs';

process.env.GRIPWRIGHT_LINT = 'whole';
await tool('@sveltejs/kit', ['sync'], { quiet: true });
const asked = process.argv.slice(2);
const plain = await tool('oxlint', [
  '--type-aware',
  '--report-unused-disable-directives-severity=error',
  ...asked,
]);
process.exitCode = (await tool('eslint', ['.', ...asked])) || plain;
