import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import { storeyConfigs } from './scripts/lib/storeys.mjs';
import svelteConfig from './svelte.config.js';

/** Where the types come from: of everything at once, or as they are asked for, file by file. */
const types =
  process.env.GRIPWRIGHT_LINT === 'whole'
    ? { programs: [(await import('./scripts/lib/lintProgram.mjs')).lintProgram()] }
    : { projectService: true };

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
  ts.configs.recommendedTypeChecked,
  svelte.configs.recommended,
  svelte.configs.prettier,
  // there are no stores here, only runes; it costs a twentieth of the time
  { rules: { 'svelte/require-store-reactive-access': 'off' } },
  {
    languageOptions: {
      parserOptions: {
        ...types,
        tsconfigRootDir: import.meta.dirname,
        extraFileExtensions: ['.svelte'],
      },
    },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      eqeqeq: 'error',
      'no-var': 'error',
      'prefer-const': 'error',
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
    files: ['src/**'],
    languageOptions: { globals: { ...globals.browser, ...globals.worker } },
  },
  {
    files: ['src/cli/**', 'tests/**', 'scripts/**', '*.{js,ts}'],
    languageOptions: { globals: globals.node },
  },
  {
    // These tools read the types themselves where Svelte and TypeScript meet.
    files: ['**/*.svelte', '**/*.svelte.ts', '**/*.svelte.js'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
    rules: {
      'prefer-const': 'off',
      'svelte/prefer-const': ['error', { excludedRunes: ['$props', '$derived', '$state'] }],
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
  {
    // Scripts and configs stand outside the typed projects; TypeScript would only guess.
    files: ['**/*.{js,mjs,cjs}', '**/*.config.ts', 'src/service-worker.ts'],
    extends: [ts.configs.disableTypeChecked],
    languageOptions: { parserOptions: { programs: null } },
  },
  storeyConfigs,
);
