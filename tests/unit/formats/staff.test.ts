/** Staves in ABC notation, read back by the player of `abcjs`: both parts sound what they are to sound. */
import abcjs from 'abcjs';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { inOrder } from '$lib/arrange/inOrder';
import { isPitch } from '$lib/arrange/progression';
import { arrangeTune } from '$lib/arrange/tune';
import { tuneMeasures } from '$lib/arrange/tuneMeasures';
import { noWishes } from '$lib/arrange/wishes';
import { staffSystems, tuneAbc } from '$lib/formats/staffSystems';
import { pathSteps } from '$lib/formats/svgPath';
import { OWN_TUNES } from '../arrange/ownTunes';

const E9 = builtIn('e9');

interface Played {
  readonly tracks: readonly (readonly { cmd: string; pitch: number; start: number }[])[];
}

describe.each(Object.entries(OWN_TUNES))('%s', (_, piece) => {
  const textures = { texture: 'sixths', harmony: 'changes', measures: [] } as const;
  const steps = arrangeTune(E9, piece, textures, noWishes(false), 1).ways[0]?.steps ?? [];
  const measures = tuneMeasures(piece, steps);
  const plan = { piece, measures, signs: 'letters' as const, widthOf: () => 20 };

  it('sounds the tune in the one staff and the steel in the other', () => {
    const [tune] = abcjs.parseOnly(tuneAbc(piece, measures));
    const { tracks } = (tune as unknown as { setUpAudio: (o: object) => Played }).setUpAudio({
      chordsOff: true,
    });
    const [melody = [], steel = []] = tracks.map((track) =>
      track.filter(({ cmd }) => cmd === 'note').map(({ pitch }) => pitch),
    );
    expect(melody).toEqual(
      inOrder(piece).notes.map(({ pitch }) => (isPitch(pitch) ? pitch.midi : NaN)),
    );
    const sounding = steps.map(({ hold }) => [...hold.pitches].sort((a, b) => a - b));
    expect(steel).toEqual(sounding.flat());
  });

  it('has every note in a system, and says where in its text it stands', () => {
    const systems = staffSystems({ ...plan, width: 700 });
    expect(systems.flatMap((each) => each.steps.map(({ index }) => index))).toEqual(
      steps.map((__, index) => index),
    );
    expect(systems.flatMap((each) => each.measures)).toEqual(measures.map((__, order) => order));
    for (const { abc, steps: own } of systems)
      for (const { char } of own) expect(abc.slice(char, char + 1)).toMatch(/[[A-Ga-g^_=(]/u);
  });
});

describe('outlines', () => {
  it('are lines and curves where SVG 1.1, 8.3, has them', () => {
    const at = (x: number, y: number) => [x, y] as const;
    expect(pathSteps('M1 2l3 4h-1V0z', at)).toEqual([
      ['M', 1, 2],
      ['L', 4, 6],
      ['L', 3, 6],
      ['L', 3, 0],
      ['Z'],
    ]);
    // a smooth curve goes on along the handle before it, mirrored
    expect(pathSteps('M0 0c0 1 1 2 2 2s2-1 2-2', at)).toEqual([
      ['M', 0, 0],
      ['C', 0, 1, 1, 2, 2, 2],
      ['C', 3, 2, 4, 1, 4, 0],
    ]);
  });
});
