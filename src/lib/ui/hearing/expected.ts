/** What the ear is told to listen for. */
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { wantedStrings } from '$lib/answers/heardHold';
import type { Expected } from './earMessages';

/** What a hold should sound, by the setup's own targets. */
export const expectedOf = (setup: Setup, hold: Hold): Expected => ({
  hz: wantedStrings(setup, hold).map(({ hz }) => hz),
  referenceHz: setup.referenceHz,
});
