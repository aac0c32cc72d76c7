import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import { SetupShape } from '$lib/setup/setupFile';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { SCHEMA_FILE, setupSchemaText } from '../../../scripts/schema.mjs';
import { setupDocument } from '../../property/generators';
import { BROKEN } from './invalidSetups';

const text = readFileSync(inRoot(SCHEMA_FILE), 'utf8');
const schema = JSON.parse(text) as Record<string, unknown>;
const bySchema = new Ajv2020({ strict: true, allErrors: true }).compile(schema);
const documentOf = (path: string): unknown =>
  JSON.parse(readFileSync(inRoot('shared/setups', path), 'utf8'));

describe('the published schema of setup files', () => {
  it('is the one that the program checks files with (npm run schema writes it)', async () => {
    expect(await setupSchemaText(SetupShape)).toBe(text);
  });

  it('says what it is, in JSON Schema 2020-12', () => {
    expect(schema).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      $id: 'urn:gripwright:setup:2',
    });
    expect(schema['title']).toMatch(/pedal steel/);
    expect(schema['description']).toMatch(/string/);
  });

  it.each(BUILT_IN_IDS)('accepts the built-in setup %s, as the program does', (id) => {
    const document = documentOf(`${id}.json`);
    bySchema(document);
    expect(bySchema.errors ?? []).toEqual([]);
    expect(readSetup(document).ok).toBe(true);
  });

  it.each(BROKEN.filter(({ unseen }) => unseen === undefined))('refuses $file', ({ file }) => {
    const document = documentOf(`invalid/${file}.json`);
    expect(readSetup(document).ok).toBe(false);
    expect(bySchema(document)).toBe(false);
  });

  it.each(BROKEN.filter(({ unseen }) => unseen !== undefined))(
    'cannot see the fault of $file, which the program refuses: $unseen',
    ({ file }) => {
      const document = documentOf(`invalid/${file}.json`);
      expect(readSetup(document).ok).toBe(false);
      expect(bySchema(document)).toBe(true);
    },
  );

  it('accepts whatever setup the program accepts', () => {
    fc.assert(
      fc.property(setupDocument, (document) => {
        expect(readSetup(document).ok).toBe(true);
        expect(bySchema(document)).toBe(true);
      }),
    );
  });
});
