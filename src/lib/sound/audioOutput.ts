/**
 * Where the instrument stands: an audio context, the instrument on its audio thread, and a volume.
 * This file is fetched when something is to be heard for the first time, and not before.
 */
import { NO_ANSWER, isAnswered } from './answering';
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import workletUrl from './playedInstrument.worklet.ts?worker&url';
import { obey, type Message } from './messages';
import { playsThrough } from './played';

export interface AudioOutput {
  readonly context: AudioContext;
  send(message: Message): void;
  /** What else is to be heard, behind the same limiter and volume, until it is disconnected. */
  join(node: AudioNode): void;
  /** 0 (silent) to 1 (as loud as it goes). */
  setLevel(level: number): void;
  close(): void;
}

/** The instrument in a context that sounds. Without a device even its program may never come. */
async function answered(context: AudioContext): Promise<Player> {
  const player = playerIn(context);
  const hears = isAnswered(context).then((is) => {
    if (!is) throw new Error(NO_ANSWER);
  });
  try {
    return (await Promise.all([player, hears]))[0];
  } catch (error) {
    context.close().catch(() => undefined);
    throw error;
  }
}

/** Where the instrument is computed, and how it is spoken to. */
interface Player {
  readonly node: AudioNode;
  /** It takes what is to sound beside the strings, as late as they are. */
  readonly mixes: boolean;
  send(message: Message): void;
}

/** Seconds in which the volume follows, so that it does not click. */
const VOLUME_FOLLOWS = 0.02;
/** Samples at a time where there is no audio thread: about 40 ms. */
const PAGE_BLOCK = 2048;

/**
 * Call it in answer to a touch or a key, else the browser keeps the sound back. It fails within two
 * seconds where nothing answers.
 */
export async function openAudioOutput(): Promise<AudioOutput> {
  const context = new AudioContext({ latencyHint: 'interactive' });
  // asked for at once, as long as the touch is fresh; it may be answered later, or never
  context.resume().catch(() => undefined);
  const player = await answered(context);
  const volume = new GainNode(context);
  player.node.connect(volume).connect(context.destination);
  const silent = playsThrough(volume);
  return {
    context,
    send: (message) => {
      player.send(message);
    },
    join(node) {
      node.connect(player.mixes ? player.node : volume);
    },
    setLevel(level) {
      volume.gain.setTargetAtTime(level, context.currentTime, VOLUME_FOLLOWS);
    },
    close() {
      silent();
      player.node.disconnect();
      volume.disconnect();
      context.close().catch(() => undefined);
    },
  };
}

export async function playerIn(
  context: BaseAudioContext,
  messages: readonly Message[] = [],
): Promise<Player> {
  // browsers offer the audio thread only on secure addresses, so not over plain http from another machine
  if (!('audioWorklet' in context)) return playerOnPage(context, messages);
  await context.audioWorklet.addModule(workletUrl);
  const node = new AudioWorkletNode(context, 'played-instrument', {
    numberOfInputs: 1,
    channelCount: 2,
    channelCountMode: 'explicit',
    outputChannelCount: [2],
    processorOptions: { messages },
  });
  return {
    node,
    mixes: true,
    send: (message) => {
      node.port.postMessage(message);
    },
  };
}

/** The same instrument on the page's own thread: later by a twentieth of a second, else alike. */
function playerOnPage(context: BaseAudioContext, messages: readonly Message[]): Player {
  const instrument = new PlayedInstrument(context.sampleRate);
  for (const message of messages) obey(instrument, message, 0);
  const node = context.createScriptProcessor(PAGE_BLOCK, 0, 2);
  node.onaudioprocess = ({ outputBuffer, playbackTime }) => {
    instrument.process(
      outputBuffer.getChannelData(0),
      outputBuffer.getChannelData(1),
      playbackTime,
    );
  };
  return {
    node,
    // its own blocks would come late to it
    mixes: false,
    send: (message) => {
      obey(instrument, message, context.currentTime);
    },
  };
}
