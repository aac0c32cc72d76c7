/** What a passage is called: what it is of, and which way it goes. */
import type { LineShape } from '$lib/scales/lines';
import type { Passage, PassageKind } from '$lib/scales/passages';

const KIND_WORDS: Readonly<Record<PassageKind, string>> = {
  line: 'single notes',
  thirds: 'thirds',
  sixths: 'sixths',
  chords: 'chords',
};

/** `single notes up`, `sixths down`, `chords over and back`, `thirds into it from below`. */
export function passageWords({ kind, shape, line, way }: Passage): string {
  const first = Math.max(...(way.steps[0]?.hold.pitches ?? [0]));
  const up = (line.at(-1)?.midi ?? first) > first;
  const shapes: Readonly<Record<LineShape, string>> = {
    straight: up ? 'up' : 'down',
    in: up ? 'up to it, after a leap' : 'down to it, after a leap',
    out: up ? 'up, then a leap' : 'down, then a leap',
    over: 'over it and back',
    under: 'under it and back',
  };
  return `${KIND_WORDS[kind]} ${shapes[shape]}`;
}
