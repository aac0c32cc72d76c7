import { it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { arrange } from '$lib/arrange/arrange';
import { noWishes } from '$lib/arrange/wishes';
import { readProgression } from '$lib/arrange/readText';
const show = (id: any, text: string, most = 3, w: any = {}) => {
  const setup = builtIn(id);
  const t = performance.now();
  const a = arrange(setup, readProgression(text).progression, { ...noWishes(false), ...w }, most);
  const dt = performance.now() - t;
  console.log(id, text.slice(0, 40), dt.toFixed(1), 'ms', a.searched, a.clashes);
  if (text.length < 80) for (const w of a.ways) console.log(w.total, JSON.stringify(w.parts), w.steps.map((s) => `${s.chord.symbol}@${s.hold.fret}${s.way.map((e) => e.id).join('')}[${s.hold.strings.join('-')}]`).join(' '), w.steps.reduce((n, s) => n + s.effort.total + s.move.total, 0));
};
it('x', () => {
  show('e9', 'C | F | C');
  show('e9', 'C | Am | C');
  show('e9', 'C | Am7 | Dm7 G7 | C');
  show('e9', 'C | F | G7 | C', 3, { endAsBegun: true, pocket: 2 });
  const chords = 'C Am7 Dm7 G7 Em7 A7 D9 Fmaj7 Bm7b5 E7 F#m7 B7 Gmaj9 C6 Ab Bdim'.split(' ');
  const sixteen = chords.join(' | ');
  for (let i = 0; i < 4; i++) show('e9', sixteen, 10);
  const r = 'C Db D Eb E F F# G Ab A Bb B'.split(' '); const q = ['', 'm', '7', 'm7', 'maj7', '6', '9', 'm9', 'maj9', 'dim', '13', 'sus4'];
  const many = Array.from({ length: 64 }, (_, i) => r[(i * 7 + (i >> 3)) % 12]! + q[(i * 5) % 12]!).join(' | ');
  for (let i = 0; i < 4; i++) show('universal12', many, 10);
  for (let i = 0; i < 2; i++) show('e9', many, 20, { endAsBegun: true });
  for (let i = 0; i < 2; i++) show('e9', many, 20, { pocket: 5 });
});
