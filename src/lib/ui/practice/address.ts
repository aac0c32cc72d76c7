/** Practice's address: the setup that is practised on. */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { given } from '$lib/ui/parts/given';

export interface PracticeAddress {
  readonly setup: string;
}

export const readPracticeAddress = (parts: URLSearchParams): PracticeAddress => ({
  setup: given(parts, 'setup') ?? USUAL_SETUP,
});

/** The text after the question mark, without it; empty at the usual setup. */
export const practiceAddressText = ({ setup }: PracticeAddress): string =>
  setup === USUAL_SETUP ? '' : new URLSearchParams({ setup }).toString();
