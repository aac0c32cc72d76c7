import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import { storeyConfigs } from './scripts/lib/storeys.mjs';
import svelteConfig from './svelte.config.js';

// ESLint reads components and state classes, types and all, and holds every file to the storeys. The rules of
// TypeScript for all other files are kept by oxlint (.oxlintrc.json), which finds the same in a tenth of the time
// but cannot read components.

/** Where the types come from: of everything at once, or as they are asked for, file by file. */
const types =
  process.env.GRIPWRIGHT_LINT === 'whole'
    ? { programs: [(await import('./scripts/lib/lintProgram.mjs')).lintProgram()] }
    : { projectService: true };

const HAS_RUNES = ['**/*.svelte', '**/*.svelte.ts', '**/*.svelte.js'];

export default defineConfig(
  {
    ignores: [
      '.svelte-kit/',
      'build/',
      'dist/',
      'coverage/',
      'test-results/',
      'playwright-report/',
      'node_modules/',
    ],
  },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['src/**/*.{js,ts}'],
    languageOptions: { parser: ts.parser },
  },
  {
    files: HAS_RUNES,
    extends: [
      ts.configs.recommendedTypeChecked,
      svelte.configs.recommended,
      svelte.configs.prettier,
    ],
    languageOptions: {
      globals: { ...globals.browser, ...globals.worker },
      // these tools read the types themselves where Svelte and TypeScript meet
      parserOptions: {
        ...types,
        tsconfigRootDir: import.meta.dirname,
        extraFileExtensions: ['.svelte'],
        parser: ts.parser,
        svelteConfig,
      },
    },
    // as in .oxlintrc.json
    rules: {
      eqeqeq: 'error',
      'no-var': 'error',
      'prefer-const': 'off',
      'svelte/prefer-const': ['error', { excludedRunes: ['$props', '$derived', '$state'] }],
      // there are no stores here, only runes; it costs a twentieth of the time
      'svelte/require-store-reactive-access': 'off',
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { disallowTypeAnnotations: false, fixStyle: 'inline-type-imports' },
      ],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_' },
      ],
    },
  },
  {
    // ESLint does not see the types of components, so these rules would only guess in markup;
    // svelte-check sees them.
    files: ['**/*.svelte'],
    rules: {
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
  storeyConfigs,
);
