/**
 * A tune in its textures as MusicXML: opened by programs of others where they are installed, and its notes read
 * back by `musicxml-io`, which tell the pitches that the steps sound.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'musicxml-io';
import { describe, expect, it } from 'vitest';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { tuneScore } from '$lib/formats/write/tuneScore';
import { writeMusicXml } from '$lib/formats/write/musicXml';
import { builtIn } from '$lib/setup/builtIns';
import { OWN_TUNES } from '../arrange/ownTunes';

const E9 = builtIn('e9');
const hasLilyPond = spawnSync('musicxml2ly', ['--version']).error === undefined;
if (!hasLilyPond) console.log('skipped: musicxml2ly (Debian: lilypond) is absent');
const [NAME = '', PIECE = { measures: [] }] = Object.entries(OWN_TUNES)[0] ?? [];

function written(texture: 'line' | 'thirds' | 'chord-melody') {
  const textures = { texture, harmony: 'changes', measures: [] } as const;
  const [way] = arrangeTune(E9, PIECE, textures, noWishes(false), 1).ways;
  const steps = way?.steps ?? [];
  const { progression, played, piece, named } = tuneScore(E9, PIECE, steps);
  return { steps, text: writeMusicXml(E9, progression, played, piece, named) };
}

describe(`“${NAME}” as a score`, () => {
  it.each(['line', 'thirds', 'chord-melody'] as const)(
    'tells every pitch of the steel part: %s',
    (texture) => {
      const { steps, text } = written(texture);
      const score = parse(text);
      const part = score.parts.at(-1);
      const semitones = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
      const sounds = (part?.measures ?? []).flatMap(({ entries }) =>
        entries.flatMap((entry) => {
          if (entry.type !== 'note' || entry.pitch === undefined || entry.staff !== 1) return [];
          // what is tied to the note before does not begin here
          if (entry.notations?.some((each) => each.type === 'tied' && each.tiedType === 'stop'))
            return [];
          const { step, octave, alter = 0 } = entry.pitch;
          return [12 * (octave + 1) + semitones[step] + alter];
        }),
      );
      const asked = steps.flatMap(({ strings, hold }) =>
        strings
          .filter(({ string, reached }) => hold.strings.includes(string) && reached !== 'rings')
          .map(({ pitch }) => pitch),
      );
      expect(asked.length).toBeGreaterThan(10);
      expect([...sounds].sort((a, b) => a - b)).toEqual([...asked].sort((a, b) => a - b));
    },
  );

  it.skipIf(!hasLilyPond)('is opened by LilyPond without a complaint', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gripwright-tune-'));
    const file = join(folder, 'tune.musicxml');
    writeFileSync(file, written('chord-melody').text);
    const { status, stderr } = spawnSync('musicxml2ly', ['-o', join(folder, 'tune.ly'), file]);
    rmSync(folder, { recursive: true });
    expect(status).toBe(0);
    expect(String(stderr)).not.toMatch(/error/iu);
  });
});
