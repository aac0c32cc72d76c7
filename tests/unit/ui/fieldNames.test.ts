/**
 * What is wrong with a field is said of it, and is no part of its name (WCAG 2.2, 4.1.2 and 3.3.1): a name
 * that changes while one types is another field's for whoever listens.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { render } from 'svelte/server';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { ChangePage } from '$lib/ui/change/change.svelte';
import { readChangeAddress } from '$lib/ui/change/changeAddress';
import SuggestOptions from '$lib/ui/change/SuggestOptions.svelte';
import { fromText } from '$lib/storage/piece';
import { ProgressionState } from '$lib/ui/arrange/progression.svelte';
import Preferences from '$lib/ui/arrange/Preferences.svelte';
import { arranging, weighing } from './answering';

/** A field as a screen reader hears it: its name, and what is said of it. */
function heard(html: string, label: string): { invalid: boolean; description: string } {
  const words = (text = ''): string =>
    text
      .replace(/<[^>]*>/gu, '')
      .replace(/\s+/gu, ' ')
      .trim();
  const labels = [...html.matchAll(/<label\b[^>]*\bfor="([^"]+)"[^>]*>(.*?)<\/label>/gsu)];
  const id = labels.find(([, , text]) => words(text) === label)?.[1];
  const field =
    new RegExp(`<input\\b[^>]*\\bid="${id ?? 'none'}"[^>]*>`, 'u').exec(html)?.[0] ?? '';
  const described = /\baria-describedby="([^"]+)"/u.exec(field)?.[1] ?? 'none';
  const description = new RegExp(`\\bid="${described}"[^>]*>(.*?)</p>`, 'su').exec(html)?.[1];
  return { invalid: field.includes('aria-invalid="true"'), description: words(description) };
}

describe('a field that cannot be read', () => {
  it('of the preferences keeps its name, and says what is wrong beside it', async () => {
    const progression = new ProgressionState(
      arranging(),
      { find: () => Promise.resolve(builtIn('e9')), unknown: (id) => id },
      () => undefined,
    );
    await progression.open(fromText({ setup: 'e9', wishes: { frets: 'all of them' } }, 'G'));
    const { body } = render(Preferences, {
      props: {
        texts: progression.wishTexts,
        faults: progression.wishFaults,
        onchange: () => undefined,
      },
    });
    const { invalid, description } = heard(body, 'Frets');
    expect(invalid).toBe(true);
    expect(description).toMatch(/^⚠ Frets: found .*all of them.*; allowed is /u);
    expect(heard(body, 'Strings at once')).toEqual({ invalid: false, description: '' });
  });

  it('of the search for pulls keeps its name, and says what is wrong beside it', async () => {
    const change = new ChangePage(weighing(), builtIn('e9'), () => undefined);
    const address = readChangeAddress(new URLSearchParams('station=P4&want=Hm'));
    await change.open(address, builtIn('e9'));
    const { options, anyStrain, question } = change;
    const { body } = render(SuggestOptions, {
      props: {
        options,
        anyStrain,
        faults: question.ok ? [] : question.error,
        onoption: () => undefined,
        onstrain: () => undefined,
        repertoire: change.repertoire,
        onrepertoire: () => undefined,
      },
    });
    const { invalid, description } = heard(body, 'Wanted chords only');
    expect(invalid).toBe(true);
    expect(description).toMatch(/^⚠ Found .*Hm.*; allowed is /u);
    expect(heard(body, 'Chords to keep')).toEqual({ invalid: false, description: '' });
  });
});

describe('no label in the program', () => {
  it('holds what is said of its field', () => {
    const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((file) =>
      file.endsWith('.svelte'),
    );
    expect(files.length).toBeGreaterThan(0);
    const holding = files.filter((file) => {
      const source = readFileSync(join('src', file), 'utf8');
      const labels = source.match(/<label\b.*?<\/label>/gsu) ?? [];
      return labels.some((label) => /\sid="[^"]*(?:fault|why|wish)|⚠|role="/u.test(label));
    });
    expect(holding).toEqual([]);
  });
});
