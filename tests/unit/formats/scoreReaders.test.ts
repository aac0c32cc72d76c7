/**
 * Scores as other people's programs open them: Debian's `lilypond` (its reader of MusicXML) and
 * `musescore3`, where they are installed. A program that ends with an error or says that a file is not
 * valid has found a mistake of ours.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runs } from '../../battery';
import { chordOf } from '$lib/theory/chord';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import { pieceOf } from '$lib/arrange/pieceOf';
import { noteName } from '$lib/theory/pitch';
import { readAbc } from '$lib/formats/read/abc';
import { writeAbc } from '$lib/formats/write/abc';
import { call } from '../cli/calling';

const isThere = (tool: string): boolean => spawnSync(tool, ['--version']).error === undefined;
const [hasLilyPond, hasMuseScore, hasAbc2Midi] = ['musicxml2ly', 'mscore3', 'abc2midi'].map(
  isThere,
);
if (!hasLilyPond) console.log('skipped: musicxml2ly (Debian: lilypond) is absent');
if (!hasMuseScore) console.log('skipped: mscore3 (Debian: musescore3) is absent');
if (!hasAbc2Midi) console.log('skipped: abc2midi (Debian: abcmidi) is absent');

/** Chords that move many strings at once, sections, odd metres, shares, chords that cannot be played. */
const PIECES = [
  'C | Dm7 | F',
  'title: Four rooms\nkey: G\ntempo: 96\n[A]\nG | Em7 | Am7 D7 | G\n[B]\nC Cm G E7 | Am7 | D7 | G',
  'time: 3/4\nEb | Bb7 . Cm | N.C. | F#m7b5',
  'time: 6/8\nA . D | E7 | A',
  'Cmaj7 A7 | Dm9 G13 | Em7 A7#9 | Dm7 G7 | C6/9',
  'pickup: 1/4\nG7\n[A]\n|: C:E4 | F:F4 |1. G7:D4 | C :|2. G7 | C ||\nmetre: 3/4\ntempo: 80\n[B]\nAm | Dm (Fine) | G7 (D.C. al Fine)',
  'E7 | A7 | E7 | E7 | A7 | A7 | E7 | E7 | B7 | A7 | E7 | B7',
];
const SETUPS = ['e9', 'universal12', 'c6'];

describe('an arrangement as MusicXML', () => {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-score-'));
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });
  const cases = PIECES.flatMap((text, piece) =>
    SETUPS.map((setup) => ({ text, setup, name: `${String(piece + 1)}-${setup}` })),
  ).filter((_, at) => at < runs(2));

  it.skipIf(!hasLilyPond && !hasMuseScore).each(cases)(
    '$name is opened without a complaint',
    { timeout: 120_000 },
    async ({ text, setup, name }) => {
      const score = join(folder, `${name}.musicxml`);
      writeFileSync(join(folder, `${name}.txt`), text);
      const file = join(folder, `${name}.txt`);
      const args = ['arrange', '--setup', setup, '--file', file, '--out', score];
      expect((await call(args)).code).toBe(0);
      if (hasLilyPond) {
        const { status, stderr } = spawnSync('musicxml2ly', ['--output=-', score]);
        expect([status, /error|traceback/i.test(stderr.toString())]).toEqual([0, false]);
      }
      if (hasMuseScore) {
        const out = join(folder, `${name}.mid`);
        const env = { ...process.env, QT_QPA_PLATFORM: 'offscreen' };
        const { status, stdout, stderr } = spawnSync('mscore3', ['-o', out, score], { env });
        const said = `${stdout.toString()}${stderr.toString()}`;
        expect([status, /error|not a valid/i.exec(said)?.[0]]).toEqual([0, undefined]);
      }
    },
  );
});

describe('chords as ABC', () => {
  const chords = CHORD_TYPES.map(({ degrees }) => chordOf(noteName('E', -1), degrees));
  const text = writeAbc(
    pieceOf({
      bars: [...chords, 'no chord' as const].map((chord) => ({ slots: [{ chord, share: 1 }] })),
    }),
  );

  it('are read back the same, of every type there is', () => {
    const back = readAbc(text);
    if (!back.ok) throw new Error('a tune was expected');
    expect(back.value.faults).toEqual([]);
    const found = back.value.progression.bars.map(({ slots: [slot] }) =>
      slot === undefined || slot.chord === 'no chord' ? 'N.C.' : slot.chord.symbol,
    );
    expect(found).toEqual([...chords.map(({ symbol }) => symbol), 'N.C.']);
  });

  it.skipIf(!hasAbc2Midi)('are known to a player of ABC, of every type there is', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gripwright-abc-'));
    try {
      writeFileSync(join(folder, 'a.abc'), text);
      const args = [join(folder, 'a.abc'), '-o', join(folder, 'a.mid')];
      const { stdout, stderr } = spawnSync('abc2midi', args);
      expect(`${stdout.toString()}${stderr.toString()}`).not.toMatch(/error|warning/i);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
