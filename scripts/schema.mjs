// npm run schema: writes shared/setup.schema.json, the published description of a setup file, from
// the same shape that the program checks files with.
import { writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { toJsonSchema } from '@valibot/to-json-schema';
import { format, resolveConfig } from 'prettier';
import { createServer } from 'vite';
import { inRoot } from './lib/root.mjs';
import { say } from './lib/say.mjs';

export const SCHEMA_FILE = 'shared/setup.schema.json';

/**
 * The JSON Schema of a setup file as text, laid out as this project lays out JSON.
 *
 * @param {Parameters<typeof toJsonSchema>[0]} shape the shape of a setup file
 * @returns {Promise<string>}
 */
export async function setupSchemaText(shape) {
  const { $schema, ...rest } = toJsonSchema(shape, {
    typeMode: 'input',
    target: 'draft-2020-12',
    // JSON Schema reads every pattern as a Unicode one, so our `u` flag needs no saying.
    overrideAction: ({ valibotAction, jsonSchema }) =>
      valibotAction.type === 'regex'
        ? { ...jsonSchema, pattern: /** @type {any} */ (valibotAction).requirement.source }
        : undefined,
  });
  const schema = {
    $schema,
    $id: 'urn:gripwright:setup:2',
    title: 'Setup of a pedal steel guitar, formats 1 and 2',
    description:
      'Necks, strings, controls and pulls. The program checks more than a schema can say: ids and stations are used once, pulls move strings that exist, half-stops lie on the way to their full stop, open strings lie from C0 to C8, exceptions from the reach name controls that exist and do not gainsay each other, slack is less than travel, and a file says format 2 where it has a second bank of knee levers, hand levers, or what format 1 does not know of springs, forces and use.',
    ...rest,
  };
  const layout = await resolveConfig(inRoot(SCHEMA_FILE));
  return format(JSON.stringify(schema), { ...layout, parser: 'json' });
}

/** The shape itself; it is TypeScript, so Vite reads it. */
async function setupShape() {
  const server = await createServer({
    root: inRoot(),
    configFile: false,
    logLevel: 'error',
    appType: 'custom',
    resolve: { alias: { $lib: inRoot('src/lib') } },
    server: { middlewareMode: true, ws: false, watch: null },
    optimizeDeps: { noDiscovery: true },
  });
  try {
    const { SetupShape } = await server.ssrLoadModule('/src/lib/setup/setupFile.ts');
    return SetupShape;
  } finally {
    await server.close();
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  writeFileSync(inRoot(SCHEMA_FILE), await setupSchemaText(await setupShape()));
  say(`${SCHEMA_FILE} is written.`);
}
