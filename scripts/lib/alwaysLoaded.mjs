/** What stands in every page: what SvelteKit starts, and the frame around each place. */
const STARTS =
  /\/(?:\.svelte-kit\/generated\/client-optimized\/app\.js|@sveltejs\/kit\/src\/runtime\/client\/entry\.js|src\/routes\/\+layout\.(?:svelte|ts))$/u;

/** A place of the program. */
const PLACE = /\/src\/routes\/(?:.+\/)?\+page\.svelte$/u;

/** What so great a part of the places loads comes with what all load: its own small file costs the others more. */
const NEARLY_ALL = 0.7;

/** More places than there will be. */
const MOST_PLACES = 64;

/**
 * One file for all that every page loads, and one for each set of places that load the same. Left to itself the
 * bundler also cuts by what is fetched later, on demand, which is some thirty small files in every page: each has
 * its imports, exports and a beginning that cannot be packed, two to five KB in all.
 *
 * A place is taken to load whatever its modules import, used or not. So what a page needs of a solver (the names of
 * its lists, the cut of its work) stands in a file of its own, or the page would load the solver's neighbours.
 *
 * @returns {import('vite').Plugin}
 */
export function alwaysLoaded() {
  /** @type {Set<string>} */
  const always = new Set();
  /** By module the numbers of the places that load it, where they are more than one. @type {Map<string, number[]>} */
  const shared = new Map();
  return {
    name: 'always-loaded',
    applyToEnvironment: ({ name }) => name === 'client',
    buildEnd() {
      const reached = (/** @type {string} */ start) => {
        /** @type {Set<string>} */
        const seen = new Set([start]);
        for (const id of seen)
          for (const next of this.getModuleInfo(id)?.importedIds ?? []) seen.add(next);
        return seen;
      };
      const starts = [...this.getModuleIds()].filter((id) => STARTS.test(id));
      for (const start of starts) for (const id of reached(start)) always.add(id);
      const places = [...this.getModuleIds()].filter((id) => PLACE.test(id));
      /** @type {Map<string, number[]>} */
      const loadedBy = new Map();
      for (const [at, place] of places.entries())
        for (const id of reached(place)) loadedBy.set(id, [...(loadedBy.get(id) ?? []), at]);
      for (const [id, by] of loadedBy) {
        if (by.length >= NEARLY_ALL * places.length) always.add(id);
        else if (by.length > 1) shared.set(id, by);
      }
      // each of these is what a page asks for by its own name
      for (const start of starts) always.delete(start);
    },
    outputOptions(options) {
      // what is one file anyway, as the service worker, stays it
      if (options.codeSplitting === false) return null;
      // a module takes along what it imports, so what most places load is laid away first
      const byPlaces = Array.from({ length: MOST_PLACES - 1 }, (_, at) => at + 2).map((count) => ({
        priority: count,
        debugName: `shared by ${count} places`,
        name: (/** @type {string} */ id) => {
          const by = shared.get(id);
          return by?.length === count ? `shared-${by.join('-')}` : null;
        },
      }));
      return {
        ...options,
        codeSplitting: {
          groups: [
            {
              priority: MOST_PLACES + 1,
              debugName: 'always',
              name: (/** @type {string} */ id) => (always.has(id) ? 'always' : null),
            },
            ...byPlaces,
          ],
        },
      };
    },
  };
}
