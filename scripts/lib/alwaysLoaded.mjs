/** What stands in every page: what SvelteKit starts, and the frame around each place. */
const STARTS =
  /\/(?:\.svelte-kit\/generated\/client-optimized\/app\.js|@sveltejs\/kit\/src\/runtime\/client\/entry\.js|src\/routes\/\+layout\.(?:svelte|ts))$/u;

/** A place of the program. */
const PLACE = /\/src\/routes\/(?:.+\/)?\+page\.svelte$/u;

/** What so great a part of the places loads comes with what all load: its own small file costs the others more. */
const NEARLY_ALL = 0.7;

/**
 * One file for all that every page loads. Left to itself the bundler makes a file of its own for whatever two
 * places share, which is some thirty small ones in every page: each has its imports, exports and a beginning
 * that cannot be packed, about 5 KB in all.
 *
 * @returns {import('vite').Plugin}
 */
export function alwaysLoaded() {
  /** @type {Set<string>} */
  const always = new Set();
  return {
    name: 'always-loaded',
    applyToEnvironment: ({ name }) => name === 'client',
    buildEnd() {
      const visit = (/** @type {string} */ id) => {
        for (const next of this.getModuleInfo(id)?.importedIds ?? [])
          if (!always.has(next)) {
            always.add(next);
            visit(next);
          }
      };
      const starts = [...this.getModuleIds()].filter((id) => STARTS.test(id));
      for (const start of starts) visit(start);
      const places = [...this.getModuleIds()].filter((id) => PLACE.test(id));
      /** @type {Map<string, number>} */
      const loadedBy = new Map();
      for (const place of places) {
        const reached = new Set([place]);
        for (const id of reached)
          for (const next of this.getModuleInfo(id)?.importedIds ?? []) reached.add(next);
        for (const id of reached) loadedBy.set(id, (loadedBy.get(id) ?? 0) + 1);
      }
      for (const [id, count] of loadedBy) if (count >= NEARLY_ALL * places.length) always.add(id);
      // each of these is what a page asks for by its own name
      for (const start of starts) always.delete(start);
    },
    outputOptions(options) {
      // what is one file anyway, as the service worker, stays it
      if (options.codeSplitting === false) return null;
      return {
        ...options,
        codeSplitting: {
          groups: [
            {
              name: (id) => (always.has(id) ? 'always' : null),
            },
          ],
        },
      };
    },
  };
}
