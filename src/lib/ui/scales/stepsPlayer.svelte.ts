/** Plays a run or a ladder in time, round and round where that is wished, and knows which step is heard. */
import type { TuneStep } from '$lib/arrange/tune';
import { heardTune } from '$lib/playing/tuneNotes';
import type { Setup } from '$lib/setup/setup';
import { ROUNDS, TimedPlayer } from '$lib/ui/sound/timedPlayer.svelte';

/** The same steps several times over, each time after the time before. */
export function looped(steps: readonly TuneStep[], rounds: number): TuneStep[] {
  const last = steps.at(-1)?.onset;
  if (last === undefined) return [];
  const beats = last.at + last.lasts;
  const seconds = last.seconds + last.lastsSeconds;
  return Array.from({ length: rounds }, (_, round) =>
    steps.map((step, index): TuneStep => ({
      ...step,
      // whatever sounded at the end of a round is struck anew
      strings:
        index === 0 ? step.strings.map((each) => ({ ...each, reached: 'picked' })) : step.strings,
      onset: {
        ...step.onset,
        at: step.onset.at + round * beats,
        seconds: step.onset.seconds + round * seconds,
      },
    })),
  ).flat();
}

export class StepsPlayer extends TimedPlayer {
  loop = $state(false);

  /** Plays, or stops what plays. What is heard is a step, by its number among those that are played. */
  async toggle(setup: Setup, steps: readonly TuneStep[]): Promise<void> {
    if (this.playing) return this.stop();
    const all = looped(steps, this.loop ? ROUNDS : 1);
    if (all.length === 0) return;
    const due = all.map(({ onset }, at) => ({ index: at % steps.length, at: onset.seconds }));
    await this.play(heardTune(setup, all), setup, due);
  }
}
