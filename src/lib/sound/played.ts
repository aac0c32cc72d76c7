/**
 * What the page plays, so that it can be told from what is played to it. Whatever plays puts its last node
 * here; nothing is looked at before somebody asks.
 */

/** The last third of a second and more is remembered. */
const REMEMBERED = 16_384;

const listeners = new Set<(node: AudioNode) => void>();
/** What plays, with what remembers it from the first look on. */
const nodes = new Map<AudioNode, AnalyserNode | undefined>();

/** From now on what goes through this node is known to be the page's own; call what it gives back to end it. */
export function playsThrough(node: AudioNode): () => void {
  nodes.set(node, undefined);
  for (const each of listeners) each(node);
  return () => {
    nodes.delete(node);
  };
}

function remembering(node: AudioNode): AnalyserNode {
  let analyser = nodes.get(node);
  if (analyser === undefined) {
    analyser = node.context.createAnalyser();
    analyser.fftSize = REMEMBERED;
    node.connect(analyser);
    nodes.set(node, analyser);
  }
  return analyser;
}

/** Everything that plays now, and whatever will, until what it gives back is called. */
export function whatPlays(tell: (node: AudioNode) => void): () => void {
  for (const node of nodes.keys()) tell(node);
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** Quieter than this nothing plays. */
const SILENCE = 1e-3;

/** The last that was played at such a rate, since it was first asked for; nothing where nothing was. */
export function lastPlayed(sampleRate: number): Float32Array | undefined {
  for (const node of nodes.keys()) {
    const { context } = node;
    if (context.sampleRate !== sampleRate || context.state !== 'running') continue;
    const analyser = remembering(node);
    const samples = new Float32Array(REMEMBERED);
    analyser.getFloatTimeDomainData(samples);
    if (samples.some((each) => Math.abs(each) > SILENCE)) return samples;
  }
  return undefined;
}
