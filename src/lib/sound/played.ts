/**
 * What the page plays, so that it can be told from what is played to it. Whatever plays puts its last node
 * here; nothing is looked at before somebody asks.
 */

/** The last third of a second and more is remembered. */
const REMEMBERED = 16_384;

const analysers = new Set<AnalyserNode>();
const listeners = new Set<(node: AudioNode) => void>();
const nodes = new Set<AudioNode>();

/** From now on what goes through this node is known to be the page's own; call what it gives back to end it. */
export function playsThrough(node: AudioNode): () => void {
  const analyser = node.context.createAnalyser();
  analyser.fftSize = REMEMBERED;
  node.connect(analyser);
  analysers.add(analyser);
  nodes.add(node);
  for (const each of listeners) each(node);
  return () => {
    analysers.delete(analyser);
    nodes.delete(node);
  };
}

/** Everything that plays now, and whatever will, until what it gives back is called. */
export function whatPlays(tell: (node: AudioNode) => void): () => void {
  nodes.forEach(tell);
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** Quieter than this nothing plays. */
const SILENCE = 1e-3;

/** The last that was played at such a rate; nothing where nothing was. */
export function lastPlayed(sampleRate: number): Float32Array | undefined {
  for (const analyser of analysers) {
    if (analyser.context.sampleRate !== sampleRate || analyser.context.state !== 'running')
      continue;
    const samples = new Float32Array(REMEMBERED);
    analyser.getFloatTimeDomainData(samples);
    if (samples.some((each) => Math.abs(each) > SILENCE)) return samples;
  }
  return undefined;
}
