/** Makes a proposed change real: in the saved setup, or in a copy of one that is not to be changed. */
import { ok, refuse, type Result } from '$lib/result';
import { faultText } from '$lib/faults';
import type { Setup } from '$lib/setup/setup';
import type { Setups } from '$lib/ui/shelf/setups.svelte';

export interface TakenOver {
  /** The setup that has the change now. */
  readonly id: string;
  readonly sentence: string;
}

/** A name is at most 200 characters; a longer one goes without what is added. */
const MOST_NAME = 200;

export async function takeOver(
  setups: Setups,
  id: string,
  after: Setup,
  what: string,
): Promise<Result<TakenOver, string>> {
  if (setups.about(id) === undefined) {
    const name = `${after.name}, ${what}`;
    const copy = name.length > MOST_NAME ? after : { ...after, name };
    const created = await setups.create(copy, `taken over: ${what}`);
    if (created.problem !== undefined) return refuse(created.problem);
    return ok({
      id: created.id,
      sentence: `Taken over into a copy, “${copy.name}”, that is kept on this device.`,
    });
  }
  const opened = await setups.open(id);
  if (!opened.ok) return opened;
  const document = opened.value;
  document.saveVersion(`before ${what}`);
  const faults = document.edit(after, what);
  if (faults.length > 0) return refuse(faults.map(faultText).join(' '));
  return ok({
    id,
    sentence: `Taken over into “${after.name}”. The Bench can undo it, and keeps the version before.`,
  });
}
