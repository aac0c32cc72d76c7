/** The version of the sources that this program was built from. */
declare const GRIPWRIGHT_SOURCES: string | undefined;

/** The same sources have the same, and any change of them another. */
export const VERSION: string =
  typeof GRIPWRIGHT_SOURCES === 'undefined' ? 'unbuilt' : GRIPWRIGHT_SOURCES;
