/** The past of a document that is open: as much of it as is in hand, and the fetching of more. */
import { ok, type Result } from '$lib/result';
import type { Store } from './store';
import { pastOf, stepAt, withSteps, type StoredDocument } from './storedDocument';

/** As much of the past is fetched in one go. */
const AT_ONCE = 500;
/** As many steps back are in hand before Undo asks for them. */
const IN_HAND = 8;

/** There are steps before those in hand. */
export const hasMorePast = (stored: StoredDocument): boolean => pastOf(stored).at(-1)?.after !== 0;

/** Undo will soon be at the end of what is in hand. */
export const runsOut = (stored: StoredDocument): boolean => pastOf(stored).length < IN_HAND;

/** Fetches more of the past; what is in hand by then is given by `now`. */
export async function morePast(
  store: Store,
  now: () => StoredDocument,
): Promise<Result<StoredDocument, string>> {
  const before = now();
  const oldest = pastOf(before).at(-1);
  if (oldest === undefined || oldest.after === 0) return ok(before);
  const fetched = await store.past(before.entry.id, oldest.after, AT_ONCE);
  if (!fetched.ok) return fetched;
  // where a step is lost, the one after it follows the one before it
  const after = fetched.value[0]?.number ?? 0;
  const stored = now();
  const known = stepAt(stored, oldest.number) ?? oldest;
  const steps = stored.steps.map((step) => (step === known ? { ...step, after } : step));
  return ok(withSteps({ ...stored, steps }, fetched.value));
}
