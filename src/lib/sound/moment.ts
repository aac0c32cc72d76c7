/** The clock that our instrument and one outside both keep. */

/** The same moment by two clocks: what is heard now, in seconds of an audio context, and in ms of the page. */
export interface Moment {
  readonly seconds: number;
  readonly ms: number;
}

/** What is heard of a context now. */
export function momentOf(context: AudioContext): Moment {
  const { contextTime, performanceTime } = context.getOutputTimestamp?.() ?? {};
  // a context that has just begun knows nothing yet
  if (contextTime !== undefined && performanceTime !== undefined && performanceTime > 0)
    return { seconds: contextTime, ms: performanceTime };
  const { currentTime, outputLatency, baseLatency } = context;
  return { seconds: currentTime - (outputLatency || baseLatency || 0), ms: performance.now() };
}
