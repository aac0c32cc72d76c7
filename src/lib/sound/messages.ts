/** What the page says to the audio thread. Times are in seconds of the context's clock. */
import type { Action, Target } from '$lib/rendering/actions';
import type { Mover } from '$lib/playing/schedule';
import type { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';

export type Message =
  /** Plays actions, whose times count from `at`; what rings is damped at once. */
  | { readonly say: 'play'; readonly actions: readonly Action[]; readonly at: number }
  /** Hands or feet move now, in `over` seconds. */
  | {
      readonly say: 'bend';
      readonly to: readonly Target[];
      readonly over: number;
      readonly by: Mover;
      /** Seconds that what moves is heard at least. */
      readonly hold: number;
    }
  /** Takes actions along with those that wait; their times are the context's own. */
  | { readonly say: 'add'; readonly actions: readonly Action[] }
  | { readonly say: 'stop' };

/** Does what a message says, at a time of the context. */
export function obey(instrument: PlayedInstrument, message: Message, time: number): void {
  switch (message.say) {
    case 'play':
      instrument.play(message.actions, message.at);
      break;
    case 'bend':
      instrument.bend(message.to, time, message.over, message.by, message.hold);
      break;
    case 'add':
      instrument.add(message.actions);
      break;
    case 'stop':
      instrument.stop();
      break;
  }
}
