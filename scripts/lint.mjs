// npm run check:lint: ESLint over everything, with one program of all types.
import { tool } from './lib/run.mjs';

process.env.GRIPWRIGHT_LINT = 'whole';
await tool('@sveltejs/kit', ['sync'], { quiet: true });
process.exitCode = await tool('eslint', ['.', ...process.argv.slice(2)]);
