/** Tablature as a piece that is arranged just as it is written. Where chords lie on E9 is common practice of the trade. */
import { describe, expect, it } from 'vitest';
import { readWishes } from '$lib/answers/readWishes';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { builtIn } from '$lib/setup/builtIns';
import { engagedCode } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { tabPieceOf, type TabPiece } from '$lib/ui/tab-reading/tabPiece';

function pieceOf(text: string, setup: Setup): TabPiece {
  const piece = tabPieceOf(text, setup);
  if (!piece.ok) throw new Error(piece.error);
  return piece.value;
}
/** What the arranged piece holds, chord by chord. */
function arranged({ text, locks }: TabPiece, setup: Setup): string[] {
  const wishes = readWishes(setup, { locks });
  if (!wishes.ok) throw new Error(JSON.stringify(wishes.error));
  const { ways } = arrange(setup, readProgression(text).progression, wishes.value, 1);
  return (ways[0]?.steps ?? []).map((step) =>
    'hold' in step
      ? `${step.hold.neck}: ${step.hold.fret} ${engagedCode(step.hold.engaged)} ${step.hold.strings.join('-')}`
      : '-',
  );
}

describe('what tablature tells is arranged as it stands', () => {
  it('chords, single notes and two strings', () => {
    const setup = builtIn('e9');
    // C at fret 8; its root on string 4, its third and fifth below; F there with A and B, F lowest; B♭ on string 1 at fret 4
    const text = '8 - 4-5-6\n8 - 4\n8 - 5-6\n8 A,B 4-5-6\n4 - 1';
    const piece = pieceOf(text, setup);
    expect(piece.text).toBe('C/E | C | C | F | Bb');
    expect(piece.count).toBe(5);
    expect(piece.told).toEqual([
      '3 of 5 are single notes or two strings: each stands under a chord that has them, and is played as it is written.',
    ]);
    expect(arranged(piece, setup)).toEqual([
      '1: 8  4-5-6',
      '1: 8  4',
      '1: 8  5-6',
      '1: 8 A,B 4-5-6',
      '1: 4  1',
    ]);
  });
  it('on both necks of a double', () => {
    const setup = builtIn('double');
    const piece = pieceOf('E9\n8 - 4-5-6\n8 A 5\nC6\n0 - 3-4-5\n0 P5 5', setup);
    expect(arranged(piece, setup)).toEqual(['1: 8  4-5-6', '1: 8 A 5', '2: 0  3-4-5', '2: 0 P5 5']);
  });
  it('a control that moves nothing there is left out, and told', () => {
    const setup = builtIn('e9');
    const piece = pieceOf('8 A,B 4-5', setup);
    expect(arranged(piece, setup)).toEqual(['1: 8 A 4-5']);
    expect(piece.told).toContain(
      'A control that moves none of the strings picked with it is left out.',
    );
  });
});
