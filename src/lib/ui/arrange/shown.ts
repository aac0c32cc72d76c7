/** What the parts of Arrange show of its state. */
import type { ComponentProps } from 'svelte';
import { DEFAULT_TEMPO } from '$lib/arrange/progression';
import { strikableSections } from '$lib/answers/tuneWishes';
import { chordSignsIn } from '$lib/theory/chordSigns';
import type Arranged from './Arranged.svelte';
import type Choosing from './Choosing.svelte';
import type { Answered } from './asking';
import type { ProgressionState } from './progression.svelte';

/** The arrangements among which one is chosen; nothing where there are none of chords. */
export const arrangementsOf = (
  state: ProgressionState,
): ComponentProps<typeof Choosing>['arrangements'] =>
  state.answered && state.way
    ? {
        ...{ ways: state.ways, chosen: state.chosen, isBehind: state.isBehind },
        ...{ alternatives: state.alternatives, other: state.other },
      }
    : undefined;

/** What is asked of the textures, as it is written and as it was read. */
export const texturesOf = (state: ProgressionState): ComponentProps<typeof Choosing>['asked'] => ({
  texts: state.wishTexts,
  textures: state.wishes?.textures,
  strikes: state.wishes?.strikes,
  sections: strikableSections(state.read.piece?.measures ?? []),
});

/** The arrangement on show, and why there is none. */
export const arrangedOf = (state: ProgressionState): ComponentProps<typeof Arranged>['shown'] => {
  const { answered, way, tuneWay, wishes, chosen, isBehind } = state;
  const silent = state.failure !== undefined || state.wishFaults.length > 0;
  const unplayable = answered !== undefined && answered.arrangement.unplayable.length > 0;
  return {
    ...{ answered, way, tuneWay, wishes, chosen, isBehind },
    signs: chordSignsIn(state.wishTexts.signs),
    ...(way || answered?.tune || silent
      ? {}
      : state.busy
        ? { instead: 'busy' }
        : unplayable
          ? {}
          : { instead: 'none' }),
  };
};

/** How long what is answered lasts, in measures, and how fast it goes. */
export const timeOf = ({ progression, piece, tune, wishes }: Answered) => ({
  measures: ((tune ?? wishes.strikes) && piece?.measures.length) ?? progression.bars.length,
  tempo: progression.tempo ?? DEFAULT_TEMPO,
});
