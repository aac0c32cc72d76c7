/** The setup of the rig's page, and the one to which the way is told, as its address. */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { given } from '$lib/ui/parts/given';

export interface RigAddress {
  readonly setup: string;
  /** The proposal; none where no way is asked for. */
  readonly to: string | undefined;
}

export const readRigAddress = (parts: URLSearchParams): RigAddress => ({
  setup: given(parts, 'setup') ?? USUAL_SETUP,
  to: given(parts, 'to'),
});

/** The text after the question mark, without it. */
export const rigAddressText = ({ setup, to }: RigAddress): string =>
  new URLSearchParams({
    ...(setup === USUAL_SETUP ? {} : { setup }),
    ...(to === undefined ? {} : { to }),
  }).toString();
