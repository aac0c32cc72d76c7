/** Makes a proposed change real: in the saved setup, or in a copy of one that is not to be changed. */
import { ok, refuse, type Result } from '$lib/result';
import { faultText } from '$lib/faults';
import { briefly, proposed, type Proposal } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import type { Setups } from '$lib/ui/shelf/setups.svelte';

export interface Applied {
  /** The setup that has the change now. */
  readonly id: string;
  readonly sentence: string;
  /** The setup without it, where that stays as it was. */
  readonly from?: string;
  /** The saved setup as it was just before. */
  readonly was?: Setup;
}

/** What is to be made real, and the setup with it as the page shows it. */
export interface ToApply {
  readonly proposal: Proposal;
  readonly after: Setup;
}

export async function applyChange(
  setups: Setups,
  id: string,
  { proposal, after }: ToApply,
  what: string,
): Promise<Result<Applied, string>> {
  if (setups.about(id) === undefined) {
    const trouble = await setups.prepare();
    if (trouble !== undefined) return refuse(trouble);
    const copy = setups.beginCopy(after, { word: briefly(what), label: `applied: ${what}` });
    await copy.settled();
    if (copy.problem !== undefined) return refuse(copy.problem);
    return ok({
      id: copy.id,
      from: id,
      sentence: `Applied to a duplicate, “${copy.name}”, that is kept on this device.`,
    });
  }
  const opened = await setups.open(id);
  if (!opened.ok) return opened;
  const document = opened.value;
  // another tab may have changed it since the page took it up
  const was = document.value;
  const made = proposed(was, proposal);
  if (!made.ok) return refuse(made.error.map(faultText).join(' '));
  document.saveVersion(`before ${what}`);
  const faults = document.edit(made.value, what);
  if (faults.length > 0) return refuse(faults.map(faultText).join(' '));
  await document.settled();
  if (document.problem !== undefined) return refuse(document.problem);
  return ok({
    id,
    was,
    sentence: `Applied to “${was.name}”. The Bench can undo it, and keeps the version before.`,
  });
}

/** Keeps the setup as it was, as one of its own, beside the saved one that has the change now. */
export async function keepBeside(
  setups: Setups,
  applied: Applied,
): Promise<Result<Applied, string>> {
  if (applied.was === undefined) return ok(applied);
  const trouble = await setups.prepare();
  if (trouble !== undefined) return refuse(trouble);
  const copy = setups.beginCopy(applied.was, {
    word: 'as it was',
    label: 'as it was before a change',
  });
  await copy.settled();
  if (copy.problem !== undefined) return refuse(copy.problem);
  return ok({
    id: applied.id,
    from: copy.id,
    sentence: `${applied.sentence} As it was, it is kept as “${copy.name}” too.`,
  });
}
