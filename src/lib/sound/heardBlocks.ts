/** Takes down what sounds at a node of an audio context, block by block. */
import workletUrl from './heard.worklet.ts?worker&url';
import type { HeardBlock } from './gaplessBlocks';

export type { HeardBlock };

/** Samples at a time where there is no audio thread: about 40 ms. */
const PAGE_BLOCK = 2048;

/**
 * A node that hands on what is connected to it; of several channels it takes the mean. It plays nothing.
 * Where the browser offers no audio thread, the page's own does it.
 */
export async function heardBlocks(
  context: AudioContext,
  onblock: (block: HeardBlock) => void,
): Promise<AudioNode> {
  const mono = { channelCount: 1, channelCountMode: 'explicit' } as const;
  // browsers offer the audio thread only on secure addresses
  if ((context as { audioWorklet?: AudioWorklet }).audioWorklet === undefined) {
    const node = context.createScriptProcessor(PAGE_BLOCK, 1, 1);
    node.onaudioprocess = ({ inputBuffer, playbackTime }) => {
      // it is heard a block before it would be played
      const at = playbackTime - PAGE_BLOCK / inputBuffer.sampleRate;
      onblock({ samples: inputBuffer.getChannelData(0).slice(), at });
    };
    node.connect(context.destination);
    return node;
  }
  await context.audioWorklet.addModule(workletUrl);
  const node = new AudioWorkletNode(context, 'heard', { ...mono, numberOfOutputs: 1 });
  node.port.onmessage = ({ data }: MessageEvent<HeardBlock>) => onblock(data);
  // a node that leads nowhere is not computed
  node.connect(context.destination);
  return node;
}
