/** The setups that can be chosen, in the groups in which a list shows them. */
import type { SetupChoice, Setups } from './setups.svelte';

export interface ChoiceGroup {
  readonly name: string;
  readonly choices: readonly SetupChoice[];
}

export const groupsOf = ({ stored, temporary, builtIn }: Setups): ChoiceGroup[] =>
  [
    { name: 'Kept on this device', choices: stored },
    { name: 'Only looked at', choices: temporary },
    { name: 'Come with the program', choices: builtIn },
  ].filter(({ choices }) => choices.length > 0);
