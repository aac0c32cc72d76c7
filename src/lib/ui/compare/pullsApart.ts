/** What the pedals and levers of one setup do that none of the other does, where it could do it. */
import { controlText } from '$lib/setup/controlText';
import type { Control, Setup } from '$lib/setup/setup';
import { changeAddressText, USUAL_FRET } from '$lib/ui/change/changeAddress';
import { proposalWords } from '$lib/ui/change/proposalWords';

export interface PullApart {
  /** Where it is and what it does: `RKV: 5 B3 → C4`. */
  readonly words: string;
  /** The control that would give way to it, by its id; empty at a free station. */
  readonly instead: string;
  /** Change's address, behind the question mark, with the pulls proposed. */
  readonly address: string;
}

/** What tells pulls apart, whatever the station is and in whichever order they are written. */
const pullsOf = (control: Control): string =>
  controlText(control).split(':')[1]?.split(',').sort().join() ?? '';

/** The strings that it moves are on the other setup too, and tuned alike. */
const fits = ({ pulls }: Control, from: Setup, to: Setup): boolean =>
  pulls.every(({ neck, string }) => {
    const [there, here] = [from, to].map(
      (setup) => setup.necks[neck - 1]?.strings[string - 1]?.open.midi,
    );
    return there !== undefined && there === here;
  });

/** The controls of one setup whose pulls no control of the other has; those alone that it could take over. */
export function pullsApart(from: Setup, to: Setup, toId: string): PullApart[] {
  const known = new Set(to.controls.map(pullsOf));
  return from.controls
    .filter(
      (control) =>
        control.pulls.length > 0 && !known.has(pullsOf(control)) && fits(control, from, to),
    )
    .map((control) => {
      const text = controlText(control);
      return {
        words: proposalWords(
          { ...from, controls: [{ ...control, id: control.station }] },
          { with: [text] },
        ),
        instead: to.controls.find(({ station }) => station === control.station)?.id ?? '',
        address: changeAddressText({
          setup: toId,
          proposal: { with: [text] },
          fret: USUAL_FRET,
          station: control.station,
          options: {},
          anyStrain: false,
        }),
      };
    });
}
