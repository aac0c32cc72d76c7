/**
 * Plays an instrument that is plugged in along with ours: the same actions as MPE (`rendering/mpeStrings.ts`), at
 * the times at which ours is heard. Messages go out a little ahead with their times on them, so that the
 * page's own hitches are not heard, and never far ahead, so that a stop is one.
 */
import { MpeStrings, SETTING_UP, SILENCE } from '$lib/rendering/mpeStrings';
import type { Message } from '$lib/sound/messages';
import type { Moment } from '$lib/sound/moment';
import type { MidiOutput } from './access';

/** Seconds that messages are sent ahead: no more than strings are blocked between two grips. */
const AHEAD = 0.04;
const EVERY_MS = 12;

export interface MpeReceiver {
  /**
   * Does what the voice says to our own instrument.
   *
   * @param moment where the clock of its times is; asked again as long as something sounds, since clocks drift apart
   */
  take(message: Message, moment: () => Moment): void;
  /** Everything falls silent now. */
  silence(): void;
}

/** Sets an output up as one zone of strings; it has to be told of nothing before. */
export function createMpeReceiver(output: MidiOutput): MpeReceiver {
  const strings = new MpeStrings();
  let timer: ReturnType<typeof setInterval> | undefined;
  let momentOf: (() => Moment) | undefined;
  /** Seconds of that clock. */
  let sentUntil = -Infinity;

  const send = (bytes: readonly number[], ms?: number): void => {
    try {
      output.send(bytes, ms);
    } catch {
      // it was unplugged this moment, which whoever chose it is told
    }
  };
  const rest = (): void => {
    clearInterval(timer);
    timer = undefined;
  };
  /** The time of what is heard now, and what turns such a time into one of the page. */
  const clock = (moment: Moment) => ({
    now: moment.seconds + (performance.now() - moment.ms) / 1000,
    ms: (seconds: number): number => moment.ms + (seconds - moment.seconds) * 1000,
  });
  const play = (): void => {
    if (momentOf === undefined) return;
    const { now, ms } = clock(momentOf());
    sentUntil = now + AHEAD;
    for (const { at, bytes } of strings.until(sentUntil)) send(bytes, ms(at));
    if (!strings.isBusy) rest();
  };
  /** All notes off, now and behind what was sent ahead; no later, or it would end what is played next. */
  const silence = (): void => {
    if (momentOf !== undefined && strings.isBusy) {
      const { now, ms } = clock(momentOf());
      const behind = ms(Math.min(Math.max(now, sentUntil), now + AHEAD));
      strings.stop(now);
      play();
      for (const when of [undefined, behind]) for (const bytes of SILENCE) send(bytes, when);
    }
    rest();
  };

  for (const bytes of [...SETTING_UP, ...SILENCE]) send(bytes);
  return {
    take(message, moment) {
      momentOf = moment;
      const { now } = clock(moment());
      switch (message.say) {
        case 'play':
          strings.play(message.actions, message.at, now);
          break;
        case 'add':
          strings.add(message.actions);
          break;
        case 'bend':
          strings.bend(message.to, now, message.over, message.by, message.hold);
          break;
        case 'stop':
          silence();
          return;
      }
      play();
      timer ??= setInterval(play, EVERY_MS);
    },
    silence,
  };
}
