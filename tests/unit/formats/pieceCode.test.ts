/** What the code on a sheet of a tune carries: every note where it holds that, else the chords alone, and it says so. */
import { beforeAll, afterAll, expect, it, vi } from 'vitest';
import { pieceCode as inTerminal } from '../../../src/cli/paperOut';
import { isPitch } from '$lib/arrange/progression';
import type { Piece } from '$lib/arrange/piece';
import { readLink } from '$lib/formats/shareLink';
import { codeOf } from '$lib/formats/qr';
import { openAddress } from '$lib/formats/paperAddress';
import type { SheetCode } from '$lib/formats/sheetCode';
import { builtIn } from '$lib/setup/builtIns';
import { progressionKind } from '$lib/storage/progressionKind';
import { pieceCode as inPage } from '$lib/ui/paper/codes';
import { tuneOf } from '../arrange/ownTunes';

const E9 = builtIn('e9');
const WISHES = { texture: 'line', notes: '1:1=tune:5' } as const;
const SCALE = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
/** Measures of eight notes that do not follow one from another, so that they do not pack (a congruential generator). */
function tuneOfMeasures(count: number): Piece {
  let now = 1;
  const next = (): number => (now = (now * 16807) % 2147483647) % 14;
  const note = (): string => {
    const step = next();
    return `${SCALE[step % 7] ?? 'C'}${step < 7 ? 4 : 5}:0.5`;
  };
  return tuneOf(
    { key: 'C', metre: [4, 4], tempo: 90 },
    Array.from({ length: count }, () => ['C', Array.from({ length: 8 }, note).join(' ')] as const),
  );
}

beforeAll(() => {
  vi.stubGlobal('location', new URL('https://steel.example.org/arrange/'));
});
afterAll(() => {
  vi.unstubAllGlobals();
});

const codes = async (piece: Piece): Promise<SheetCode[]> => [
  await inPage({ setup: 'e9', piece, wishes: WISHES }, E9),
  inTerminal({ piece, wishes: WISHES, named: 'e9', setup: E9 }, 'https://steel.example.org/'),
];

function openedFrom({ link }: SheetCode) {
  const read = readLink(link.ok ? link.value : '');
  const opened = progressionKind.read(read.ok ? read.value.text : '');
  if (!opened.ok) throw new Error('it is not read');
  const notes = opened.value.piece.measures.flatMap((measure) => measure.notes);
  return { ...opened.value, sung: notes.filter(({ pitch }) => isPitch(pitch as never)).length };
}

it('has every note of a short tune, and what is asked of them', async () => {
  for (const code of await codes(tuneOfMeasures(4))) {
    expect(openedFrom(code)).toMatchObject({ sung: 32, wishes: WISHES });
    expect(code.beyond).toBeUndefined();
  }
});

it('has the chords of a long tune alone, fits on paper, and says what it leaves out', async () => {
  for (const code of await codes(tuneOfMeasures(90))) {
    const opened = openedFrom(code);
    expect(opened.piece.measures).toHaveLength(90);
    // a text of chords has the note that begins with each
    expect(opened.sung).toBe(90);
    expect(opened.wishes).toEqual({ texture: 'line' });
    expect(code.beyond).toBe('It has the chords of the piece alone, and not its notes and words.');
    const link = code.link.ok ? code.link.value : '';
    expect(codeOf(openAddress(code.address, link))).toBeDefined();
  }
});
