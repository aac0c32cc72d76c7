/** Renders what the page plays in an offline context of the browser: the same audio thread, no speaker. */
import { actionsOf, type Expression } from '$lib/rendering/actions';
import type { ScheduledNote } from '$lib/playing/schedule';
import { playerIn } from '$lib/sound/audioOutput';
import type { Message } from '$lib/sound/messages';

export const RATE = 48_000;

export async function renderMessages(
  messages: readonly Message[],
  seconds: number,
  rate = RATE,
): Promise<Float32Array> {
  const context = new OfflineAudioContext(2, Math.ceil(seconds * rate), rate);
  const { node } = await playerIn(context, messages);
  node.connect(context.destination);
  return (await context.startRendering()).getChannelData(0);
}

/** The left channel of notes. */
export const render = (
  notes: readonly ScheduledNote[],
  seconds: number,
  expression: Expression = { referenceHz: 440 },
  rate = RATE,
): Promise<Float32Array> =>
  renderMessages([{ say: 'play', actions: actionsOf(notes, expression), at: 0 }], seconds, rate);
