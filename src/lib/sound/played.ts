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

/** A note of the band, in hertz, from and until some milliseconds of `performance.now()`. */
export interface BandPitch {
  readonly hz: number;
  readonly from: number;
  readonly until: number;
}

/** A note rings on a little, and what leaves a loudspeaker is heard later: half a second, by wireless ones. */
const HEARD_AFTER_MS = 600;
/** What is handed over ahead may be heard with the block that comes now. */
const HEARD_BEFORE_MS = 50;
let band: readonly BandPitch[] = [];

/** The band plays a note; call what it gives back where it ends before its time. */
export function bandPlays(note: BandPitch): () => void {
  const over = performance.now() - HEARD_AFTER_MS;
  const others = (): BandPitch[] => band.filter((each) => each !== note && each.until > over);
  band = [...others(), note];
  return () => {
    const now = performance.now();
    band = [
      ...others(),
      ...(note.from < now ? [{ ...note, until: Math.min(note.until, now) }] : []),
    ];
  };
}

/** What of the band may be heard now, in hertz. */
export function bandPitches(): number[] {
  if (band.length === 0) return [];
  const now = performance.now();
  return band
    .filter(({ from, until }) => from - HEARD_BEFORE_MS < now && until + HEARD_AFTER_MS > now)
    .map(({ hz }) => hz);
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
