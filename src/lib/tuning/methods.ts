/** Where targets come from. */
export const METHODS = ['equal', 'just', 'fitted', 'saved'] as const;
export type Method = (typeof METHODS)[number];

/** What a method was called before, in addresses and scripts that go on being read. */
export const OLDER_METHODS = ['sweet'] as const;

/** The method of a name, of today or of before; `undefined` where there is none. */
export const methodNamed = (name: string): Method | undefined =>
  METHODS.find((each) => each === (name === 'sweet' ? 'fitted' : name));
