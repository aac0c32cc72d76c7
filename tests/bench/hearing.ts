/** `npm run bench`: how much of a core it takes to hear a grip in a sound that goes on. */
import { cpuUsage } from 'node:process';
import { readingsOf } from '$lib/hearing/stream';
import { notesOf } from '$lib/playing/schedule';
import { renderNotes } from '$lib/rendering/renderSound';
import { print } from './measure';

/** Strokes in ten seconds: one every two and a half. */
const STROKES = [0, 2.5, 5, 7.5];
const GRIPS = [
  [76, 72, 67],
  [76, 72, 67, 64, 60],
  [78, 76, 72, 67, 64, 60, 58, 55],
];

export function hearing(): void {
  console.log('Hearing a grip in ten seconds of sound (48 kHz, a stroke every 2.5 s)');
  const rows = GRIPS.map((midis) => {
    const pitches = midis.map((midi, at) => ({ string: at + 1, midi }));
    const notes = STROKES.flatMap((at) =>
      notesOf(pitches, 'rolled').map((note) => ({ ...note, at: at + note.at, duration: 2.4 })),
    );
    const { left, sampleRate } = renderNotes(notes, { referenceHz: 440, tail: 0.1 });
    const hz = midis.map((midi) => 440 * 2 ** ((midi - 69) / 12));
    const seconds = left.length / sampleRate;
    // once before, so that the program is warm
    readingsOf(left, sampleRate, [{ from: 0, hz }]);
    const before = cpuUsage();
    const readings = readingsOf(left, sampleRate, [{ from: 0, hz }]).length;
    const { user, system } = cpuUsage(before);
    const took = (user + system) / 1e6;
    return [
      `${midis.length} strings`,
      `${readings}`,
      `${took.toFixed(2)} s`,
      `${((100 * took) / seconds).toFixed(1)} %`,
    ];
  });
  print(['', 'readings', 'processor time', 'of one core'], rows);
  console.log('Wanted: a tenth of one core.\n');
}
