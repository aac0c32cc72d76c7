/** What is proposed, in the words that stand over the page and name a version. */
import { prettyPitch } from '$lib/theory/display';
import { copedentOf } from '$lib/setup/copedent';
import { isStation } from '$lib/setup/controlText';
import type { Proposal } from '$lib/setup/proposal';
import type { Setup, Station } from '$lib/setup/setup';

/** `1 F♯4 → G4, 2 D♯4 → D4 / C♯4` on every neck; half-stop first. */
function pullWords(setup: Setup, station: Station): string {
  const several = setup.necks.length > 1;
  return setup.necks
    .flatMap(({ name }, index) =>
      copedentOf(setup, index + 1, [station]).rows.flatMap(({ number, string, cells: [cell] }) => {
        if (cell === undefined || cell.stops.length === 0) return [];
        const gives = cell.stops.map(({ pitch }) => prettyPitch(pitch)).join(' / ');
        return [`${several ? `${name} ` : ''}${number} ${prettyPitch(string.open)} → ${gives}`];
      }),
    )
    .join(', ');
}

/** `RKV: 1 F♯4 → G4; without C; string 9 as C♯3`. */
export function proposalWords(after: Setup, proposal: Proposal): string {
  const controls = (proposal.with ?? []).map((text) => {
    const station = text.split(':')[0] ?? '';
    const control = after.controls.find((each) => each.station === station);
    if (control === undefined || !isStation(station))
      return text.replace(':', ': ').replaceAll(',', ', ');
    return `${control.id}: ${pullWords(after, station) || 'no pull'}`;
  });
  return [
    ...controls,
    ...(proposal.without ?? []).map((id) => `without ${id}`),
    ...(proposal.open ?? []).map((text) => `string ${text.replace(':', ' as ')}`),
  ].join('; ');
}
