// Who may import whom. The code in src/lib is built in storeys: each imports only from those
// named before it, and the pure ones touch neither the page nor the machine.
import { builtinModules } from 'node:module';
import { posix, relative, sep } from 'node:path';

export const STOREYS = [
  'theory',
  'setup',
  'search',
  'effort',
  'engine',
  'strings',
  'tuning',
  'arrange',
  'scales',
  'phrases',
  'coverage',
  'playing',
  'rendering',
  'hearing',
  'practice',
  'formats',
  'answers',
  'sound',
  'midi',
  'storage',
  'ui',
];

/** No page, no Svelte, no Node, no clock, no chance. */
export const PURE = STOREYS.slice(0, STOREYS.indexOf('sound'));

/** Files directly in src/lib that every storey may import. */
const COMMON = [
  'result',
  'faults',
  'chartFaults',
  'documentFaults',
  'keyFaults',
  'pieceFaults',
  'practiceFaults',
  'scoreFaults',
  'setupFaults',
];

/** Packages that one storey keeps to itself. */
const KEPT = { tonal: 'theory', 'ts-fsrs': 'practice' };

const PAGE_GLOBALS = [
  'window',
  'document',
  'navigator',
  'location',
  'history',
  'localStorage',
  'sessionStorage',
  'indexedDB',
  'fetch',
  'requestAnimationFrame',
];
const MACHINE_GLOBALS = ['process', 'Buffer', 'Date', 'performance', 'crypto'];

/**
 * The rules of the storeys for ESLint, apart from all other rules so that a test can run them.
 *
 * @type {import('eslint').Linter.Config[]}
 */
export const storeyConfigs = [
  {
    name: 'gripwright/storeys',
    files: ['src/**/*.{js,ts,svelte}'],
    plugins: { storeys: { rules: { imports: importsRule() } } },
    rules: { 'storeys/imports': 'error' },
  },
  {
    name: 'gripwright/pure-storeys',
    files: PURE.map((storey) => `src/lib/${storey}/**/*.{js,ts,svelte}`),
    rules: {
      'no-restricted-globals': [
        'error',
        {
          globals: [
            ...PAGE_GLOBALS.map((name) => ({
              name,
              message: 'A pure storey knows nothing of the page.',
            })),
            ...MACHINE_GLOBALS.map((name) => ({
              name,
              message: 'A pure storey has no clock, no chance and no machine; hand the value in.',
            })),
          ],
          checkGlobalObject: true,
          globalObjects: ['self'],
        },
      ],
      'no-restricted-properties': [
        'error',
        {
          object: 'Math',
          property: 'random',
          message: 'A pure storey takes no chances; hand a seed in.',
        },
      ],
    },
  },
  {
    name: 'gripwright/lib',
    files: ['src/lib/**/*.{js,ts,svelte}'],
    rules: { 'no-console': 'error' },
  },
];

/**
 * Looks at every way one file names another: imports and re-exports, `import()`, types by
 * `import('…')`, and `new URL('…', import.meta.url)`, which starts workers.
 *
 * @returns {import('eslint').Rule.RuleModule}
 */
function importsRule() {
  return {
    meta: { type: 'problem', schema: [] },
    create(context) {
      const file = relative(context.cwd, context.filename).split(sep).join('/');
      /** @param {any} source the literal that names the other file */
      const check = (source) => {
        if (typeof source?.value !== 'string') return;
        const message = faultOf(file, source.value);
        if (message) context.report({ node: source, message });
      };
      return {
        ImportDeclaration: (node) => check(node.source),
        ExportNamedDeclaration: (node) => check(node.source),
        ExportAllDeclaration: (node) => check(node.source),
        ImportExpression: (node) => check(node.source),
        TSImportType: (/** @type {any} */ node) => check(node.source),
        'NewExpression[callee.name="URL"][arguments.1.object.type="MetaProperty"]': (
          /** @type {any} */ node,
        ) => check(node.arguments[0]),
      };
    },
  };
}

/**
 * What is wrong with a file naming another, as a sentence, or nothing.
 *
 * @param {string} file path inside the project, with forward slashes
 * @param {string} named as it stands in the import
 * @returns {string | undefined}
 */
export function faultOf(file, named) {
  const from = placeOf(file);
  if (!named.startsWith('.') && !/^\$lib(\/|$)/.test(named)) return faultOfPackage(from, named);

  const target = named.startsWith('.')
    ? posix.join(posix.dirname(file), named)
    : posix.join('src/lib', named.slice('$lib'.length));
  const to = placeOf(target);

  if (from.storey === undefined && from.part !== 'cli' && from.part !== 'lib') return undefined;
  if (to.part === 'shared') return undefined;
  if (to.part !== 'lib') {
    if (to.part === from.part) return undefined;
    return `${where(from)} may not import from outside src/lib: "${named}".`;
  }
  if (to.storey === from.storey && from.part === 'lib') return undefined;
  if (named.startsWith('.')) return `Write "$lib/…" for what is in another storey: "${named}".`;
  if (to.storey === undefined) {
    if (COMMON.includes(to.name)) return undefined;
    return `Only ${COMMON.map((name) => `$lib/${name}`).join(', ')} may stand outside the storeys.`;
  }
  const level = STOREYS.indexOf(to.storey);
  if (level < 0) return `"${to.storey}" is not in the list of storeys in scripts/lib/storeys.mjs.`;
  if (from.part === 'cli') {
    if (PURE.includes(to.storey)) return undefined;
    return `The command line may import only from the pure storeys, and "${to.storey}" is not one.`;
  }
  if (from.storey !== undefined && level < STOREYS.indexOf(from.storey)) return undefined;
  return `${where(from)} may not import from "${to.storey}", which stands after it in the list.`;
}

/** @param {ReturnType<typeof placeOf>} from @param {string} named */
function faultOfPackage(from, named) {
  const name = named
    .split('/')
    .slice(0, named.startsWith('@') ? 2 : 1)
    .join('/');
  const kept = name.startsWith('@tonaljs/') ? 'tonal' : name;
  const keeper = KEPT[/** @type {keyof typeof KEPT} */ (kept)];
  if (keeper !== undefined && from.storey !== keeper) {
    return `"${name}" is used in src/lib/${keeper} and nowhere else.`;
  }
  if (from.part === 'lib' && (named.startsWith('node:') || builtinModules.includes(named))) {
    return `Nothing in src/lib uses Node: "${named}".`;
  }
  const ofThePage = name === 'svelte' || named.startsWith('$') || name === '@sveltejs/kit';
  if (ofThePage && from.storey !== undefined && PURE.includes(from.storey)) {
    return `"${from.storey}" is a pure storey and may not import "${named}".`;
  }
  return undefined;
}

/**
 * Where a path stands: the part of the project, and in src/lib the storey (none for a file
 * directly in src/lib) and the name.
 *
 * @param {string} path
 */
function placeOf(path) {
  const [top = '', part = '', ...rest] = path.split('/');
  if (top !== 'src') return { part: top, storey: undefined, name: '' };
  if (part !== 'lib') return { part, storey: undefined, name: '' };
  const [first = ''] = rest;
  const storey = rest.length > 1 || STOREYS.includes(first) ? first : undefined;
  return { part, storey, name: first.replace(/\.[jt]s$/, '') };
}

/** @param {ReturnType<typeof placeOf>} place */
function where(place) {
  return place.storey === undefined ? `src/${place.part}` : `"${place.storey}"`;
}
