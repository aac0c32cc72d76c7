/**
 * Chords and tune of a piece in ABC notation (standard 2.1; chord symbols are its section 4.18). The
 * notation itself is read by `abcjs`; here its notes get their pitches and its chords their places.
 * That library is large: import this module on demand only, as `progressionFiles` does.
 */
import abcjs, { type TuneObject } from 'abcjs';
import type { DocumentFault } from '$lib/faults';
import { fault, told } from '$lib/pieceFaults';
import { ok, refuse, type Result } from '$lib/result';
import { keyIn, quartersAMinute } from './abcItems';
import { Walk } from './abcWalk';
import { headOf, progressionOf, settled, type ReadPiece } from './score';

/** A tune in more characters is no tune, and costs the reader of the notation a hundred times its size. */
const MOST_CHARACTERS = 100_000;

/** The first tune of a file, with what stands before it; places stay what they are. */
function firstTune(text: string): { text: string; length: number } {
  const from = /^\s*X:/u.test(text) ? text.indexOf('X:') : text.indexOf('\nX:') + 1;
  const next = text.indexOf('\nX:', from + 1);
  const tune = text.slice(0, next < 0 ? undefined : next);
  // a blank line ends a tune (ABC 2.1, 2.2.1)
  const blank = /\n[ \t]*\r?\n/u.exec(tune.slice(from).trimStart())?.index;
  return { text: tune, length: blank ?? tune.length - from };
}

/** Reads the first tune of a file, its first voice where it has several. */
export function readAbc(text: string): Result<ReadPiece, DocumentFault> {
  const { text: first, length } = firstTune(text);
  const tunes = text.slice(first.length).match(/^X:/gmu)?.length ?? 0;
  if (length > MOST_CHARACTERS)
    return refuse(fault('text.tooLong', 'the tune', length, MOST_CHARACTERS));
  const read = readTune(first);
  const more =
    tunes === 0
      ? []
      : [{ where: '', words: `of ${String(tunes + 1)} tunes in the file the first is taken` }];
  return ok({ ...read, notTaken: [...(read.notTaken ?? []), ...more] });
}

function readTune(text: string): ReadPiece {
  const [tune] = abcjs.parseOnly(text) as readonly (TuneObject | undefined)[];
  const walk = new Walk(text, tune && keyIn(tune.getKeySignature()));
  const lines = tune?.lines ?? [];
  const voices = Math.max(
    0,
    ...lines.map(({ staff }) =>
      (staff ?? []).reduce((sum, { voices: own }) => sum + (own?.length ?? 0), 0),
    ),
  );
  for (const { staff } of lines) {
    const first = staff?.[0];
    if (first?.key) walk.key(first.key);
    if (first?.meter) walk.metre(first.meter);
    for (const item of first?.voices?.[0] ?? []) walk.item(item);
  }
  walk.end();
  if (tune === undefined || walk.bars.length === 0)
    return progressionOf({}, [], [{ where: 'the file', ...told('piece.noTune') }]);
  const { num, den } = tune.getMeterFraction();
  const title: unknown = tune.metaText.title;
  const head = headOf({
    title: typeof title === 'string' ? title : undefined,
    // where it is a church mode a key is found from the chords
    key: keyIn(tune.getKeySignature()),
    tempo: tune.metaText.tempo && quartersAMinute(tune.metaText.tempo),
    metre: { beats: Number(num), unit: Number(den ?? 4) },
  });
  const mode = tune.getKeySignature().mode;
  return {
    ...progressionOf(head, settled(walk.bars), walk.faults),
    notTaken: [
      ...walk.beyond.list(),
      ...(voices > 1
        ? [{ where: '', words: `of ${String(voices)} voices the first is taken` }]
        : []),
      ...(head.key === undefined && mode !== '' && mode !== 'm'
        ? [{ where: '', words: 'a key that is neither major nor minor is found from the chords' }]
        : []),
    ],
  };
}
