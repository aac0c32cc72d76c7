/** What keeps documents, as soon as it is here. */
import { refuse, ok, type Result } from '$lib/result';
import { reasonOf } from '$lib/ui/parts/reason';

export type Keeper = typeof import('./keeper');

let here: Keeper | undefined;

/** Hands it over, where a place has it from the start. */
export function provideKeeper(keeper: Keeper): void {
  here = keeper;
}

export const keeperHere = (): Keeper | undefined => here;

/** Fetches it, once; or a sentence that says why it cannot be had. */
export async function fetchKeeper(): Promise<Result<Keeper, string>> {
  try {
    return ok((here ??= await import('./keeper')));
  } catch (error) {
    return refuse(
      `What is kept on this device cannot be reached: a part of the program could not be loaded (${reasonOf(error)}). Reload the page; what you do now lasts as long as this tab.`,
    );
  }
}
