/** Why the device does not keep something, as a sentence for people. */

const REASONS = {
  full: 'the space that this browser gives is full',
  blocked: 'this browser does not let the page keep anything here (a private window, perhaps)',
  held: 'another tab with an older Gripwright holds what is kept; close or reload that tab',
  newer: 'a newer Gripwright was here in another tab; reload this page',
  silent: 'this browser does not answer when asked to keep something',
} as const;

export type TroubleReason = keyof typeof REASONS;

export class StorageTrouble extends Error {
  readonly reason: TroubleReason;

  constructor(reason: TroubleReason) {
    super(REASONS[reason]);
    this.name = 'StorageTrouble';
    this.reason = reason;
  }
}

/** The names that browsers give to what can go wrong (Indexed Database API 3.0, Web IDL). */
const BY_NAME: Readonly<Record<string, TroubleReason>> = {
  QuotaExceededError: 'full',
  SecurityError: 'blocked',
  NotAllowedError: 'blocked',
  VersionError: 'newer',
};

function reasonOf(error: unknown): string {
  if (error instanceof StorageTrouble) return error.message;
  // a browser without a database has no such name
  if (error instanceof ReferenceError || error instanceof TypeError) return REASONS.blocked;
  if (!(error instanceof Error)) return 'the browser gives no reason';
  const known = BY_NAME[error.name];
  if (known !== undefined) return REASONS[known];
  return error.message === '' ? error.name : `${error.name}: ${error.message.replace(/\.$/, '')}`;
}

/** What is said when something could not be kept. The work itself goes on. */
export const notStoredText = (error: unknown): string =>
  `This is not kept on the device: ${reasonOf(error)}. Your work goes on in this tab; save it as a file before you close it.`;

/** What is said when that which is kept cannot be reached. */
export const notReadText = (error: unknown): string =>
  `What is kept on this device cannot be reached: ${reasonOf(error)}. What you do now lasts as long as this tab; save it as a file before you close it.`;
