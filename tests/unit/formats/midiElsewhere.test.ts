/**
 * A written MIDI file sounds as it is meant where another instrument plays it: rendered by `fluidsynth`, which
 * knows General MIDI and no MPE, and heard by `pitchy`. Fourteen strings, so that every channel but that of the
 * drums has its bend.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PitchDetector } from 'pitchy';
import { expect, it } from 'vitest';
import { readWav } from '$lib/formats/read/wav';
import { writeMidiFile } from '$lib/formats/write/midi';

const SOUNDS = '/usr/share/sounds/sf2/default-GM.sf2';
const canPlay = existsSync(SOUNDS) && spawnSync('fluidsynth', ['--version']).error === undefined;

it.skipIf(!canPlay)('a file bends every string to its pitch on an instrument of others', () => {
  const folder = mkdtempSync(join(tmpdir(), 'midi-'));
  const [midi, wav] = [join(folder, 'a.mid'), join(folder, 'a.wav')];
  // each is struck 30 cents sharp and pulled up by a tone
  const notes = Array.from({ length: 14 }, (_, at) => ({
    ...{ string: at + 1, midi: 52.3 + at, at, duration: 0.95 },
    glides: [{ at: at + 0.4, over: 0.1, to: 54.3 + at }],
  }));
  const metre = { beats: 4, unit: 4 };
  writeFileSync(midi, writeMidiFile({ title: '', tempo: 120, metre, markers: [], notes }));
  execFileSync(
    'fluidsynth',
    ['-ni', '-R', '0', '-C', '0', '-r', '44100', '-F', wav, SOUNDS, midi],
    { stdio: 'ignore' },
  );
  const read = readWav(readFileSync(wav));
  if (!read.ok) throw new Error('no sound was rendered');
  const { samples, sampleRate } = read.value;
  const size = 4096;
  const detector = PitchDetector.forFloat32Array(size);
  const heardAt = (seconds: number): number => {
    const from = Math.round(seconds * sampleRate);
    const [hz] = detector.findPitch(
      Float32Array.from(samples.slice(from, from + size)),
      sampleRate,
    );
    return 69 + 12 * Math.log2(hz / 440);
  };
  for (const { midi: pitch, at } of notes) {
    // recorded strings are a few cents sharp at first
    expect(Math.abs(heardAt(at + 0.2) - pitch), `string ${String(at + 1)}`).toBeLessThan(0.12);
    expect(Math.abs(heardAt(at + 0.65) - pitch - 2), `string ${String(at + 1)}`).toBeLessThan(0.12);
  }
});
