/** Files of every format, made and spoiled from a seed: no reader ever throws, and each refusal says why. */
import { expect } from 'vitest';
import { fileFaultText, type DocumentFault } from '$lib/faults';
import { progressionFaultText, stepsOf } from '$lib/arrange/progression';
import { withMelody } from '$lib/arrange/melody';
import { readProgression } from '$lib/arrange/readText';
import { readRepertoireFile, readRepertoireText } from '$lib/coverage/repertoireFile';
import { readProgressionFile, readTuneFile } from '$lib/formats/progressionFiles';
import { withTune } from '$lib/formats/read/midi';
import { linkText, readLink } from '$lib/formats/shareLink';
import type { Result } from '$lib/result';
import { readSetupText } from '$lib/setup/readSetup';
import { progressionKind } from '$lib/storage/progressionKind';
import { linkContentIn } from '$lib/ui/shelf/linkContent';
import { battery } from '../battery';
import { RandomFiles } from './randomFiles';
import { FORMATS, RandomPieces } from './randomPieces';
import { inMemory } from '../inMemory';

/** A refusal has faults, and each is a sentence by the file's name. */
function isTold(name: string, error: DocumentFault | readonly DocumentFault[]): void {
  const faults = [error].flat();
  expect(faults.length).toBeGreaterThan(0);
  for (const fault of faults) {
    expect(fileFaultText(name, fault)).toMatch(/^\S.*: found \S.*; allowed is \S.*\.$/su);
    expect(fault.code).toMatch(/^\w+\.\w+$/);
  }
}

for (const format of FORMATS) {
  battery(
    `${format}: read or refused`,
    { slice: 100, whole: 20_000 },
    async ({ count, random }) => {
      const pieces = new RandomPieces(random);
      const under = readProgression('C | F | G').progression;
      let taken = 0;
      for (let number = 0; number < count; number++) {
        const bytes = pieces.file(format);
        try {
          if (format === 'mid') {
            const tune = await readTuneFile(inMemory('tune.mid', bytes));
            if (tune.ok) withTune(under, tune.value);
            else isTold('a.mid', tune.error);
            taken += Number(tune.ok);
            continue;
          }
          const read = await readProgressionFile(inMemory(`a.${format}`, bytes));
          taken += Number(read.ok);
          if (!read.ok) {
            isTold(`a.${format}`, read.error);
            continue;
          }
          const { progression, faults } = read.value;
          expect(stepsOf(progression).length).toBeLessThanOrEqual(1000);
          // what is left out is told
          if (progression.bars.length === 0) expect(faults.length).toBeGreaterThan(0);
          for (const fault of faults) expect(progressionFaultText(fault)).toMatch(/^\S.*\.$/su);
          for (const { share } of progression.bars.flatMap(({ slots }) => slots))
            expect(Number.isInteger(share) && share >= 1, String(share)).toBe(true);
        } catch (error) {
          throw new Error(`number ${number}: ${JSON.stringify(pieces.letters(bytes))}`, {
            cause: error,
          });
        }
      }
      // there is enough of both
      expect(taken).toBeGreaterThan(count / 20);
    },
  );
}

battery(
  'documents and links: read or refused',
  { slice: 250, whole: 50_000 },
  ({ count, random }) => {
    const pieces = new RandomPieces(random);
    const files = new RandomFiles(random);
    const told = (read: Result<unknown, readonly DocumentFault[]>): void => {
      if (!read.ok) isTold('a.json', read.error);
    };
    for (let number = 0; number < count; number++) {
      const file = files.file();
      const setup = pieces.changed(JSON.stringify(file));
      told(readSetupText(setup));
      told(
        progressionKind.read(
          pieces.changed('{"format":1,"setup":"e9","chords":"C","wishes":{"top":"E4"}}'),
        ),
      );
      told(readRepertoireFile(pieces.changed('{"format":1,"types":[{"type":"m7","weight":3}]}')));
      told(readRepertoireFile(setup));
      told(readRepertoireText(pieces.changed('maj:60,m7:3')));
      withMelody(readProgression('C | F').progression, pieces.changed('E4 - | F4'));
      const kind = random() < 0.5 ? 'setup' : 'progression';
      const link = linkText({ kind, text: setup });
      if (!link.ok) continue;
      // a whole link with anything in it, and one that was changed on its way
      for (const each of [link.value, pieces.changed(link.value)]) {
        const read = linkContentIn(`#${each}`);
        if (!read.ok) expect(read.error.sentence).toMatch(/^\S.*[.:]$/su);
        const plain = readLink(each);
        if (!plain.ok) expect(plain.error).toMatch(/^\S.*\.$/su);
      }
    }
  },
);
