/** The picture of the changer as data: every string, what the chosen control does to it, what sounds. */
import { prettyPitch, prettySymbol, spokenPitch, spokenSymbol } from '$lib/theory/display';
import { pulledPitch } from '$lib/setup/copedent';
import { engagedWords } from '$lib/setup/engagedText';
import { moveWords } from '$lib/setup/moveWords';
import type { Choice } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import type { Control, Neck, Setup } from '$lib/setup/setup';
import { spokenControl } from '$lib/setup/spokenControl';
import { homeStrings } from '$lib/effort/picking';
import { soundOf } from '$lib/answers/sound';

export interface PulledString {
  readonly string: number;
  readonly open: string;
  readonly gauge: number | undefined;
  readonly wound: boolean;
  /** The chosen control's pull, 0 for none. */
  readonly semitones: number;
  readonly half: number | undefined;
  /** "raised 2 semitones to C sharp 4", "not moved". */
  readonly spoken: string;
  /** What sounds with what the stand holds. */
  readonly sounds: string;
  readonly moved: number;
}

export interface GripSound {
  readonly grip: string;
  readonly name: string;
  readonly spoken: string;
}

export interface Picture {
  readonly control: string;
  readonly strings: readonly PulledString[];
  /** "A and B", "nothing engaged". */
  readonly held: string;
  /** Every everyday grip of three strings, with the best name of what it sounds. */
  readonly grips: readonly GripSound[];
}

/** Grips of three neighbours in the row of home strings, each as Explore names it at the nut. */
function gripsOf(setup: Setup, number: number, neck: Neck, engaged: Choice): GripSound[] {
  const home = homeStrings(neck);
  return home.slice(2).map((_, first) => {
    const strings = home.slice(first, first + 3);
    const hold = { neck: number, fret: 0, slant: 0, engaged, strings };
    const { names, interval = '' } = soundOf(setup, hold, undefined, 1);
    const [best] = names;
    return {
      grip: strings.join('-'),
      name: best === undefined ? interval : prettySymbol(best.symbol),
      spoken: best === undefined ? interval : spokenSymbol(best),
    };
  });
}

export function picture(
  setup: Setup,
  number: number,
  chosen: Control | undefined,
  engaged: Choice,
): Picture {
  const neck = setup.necks[number - 1];
  if (neck === undefined) throw new Error(`neck ${number} is not in the setup`);
  const moves = movesOf(setup, number, engaged);
  return {
    control: chosen === undefined ? '' : spokenControl(chosen),
    strings: neck.strings.map((string, index): PulledString => {
      const pull = chosen?.pulls.find((each) => each.neck === number && each.string === index + 1);
      const semitones = pull?.semitones ?? 0;
      const moved = moves[index] ?? 0;
      return {
        string: index + 1,
        open: prettyPitch(string.open),
        gauge: string.gauge,
        wound: string.wound ?? false,
        semitones,
        half: pull?.half,
        spoken:
          semitones === 0
            ? 'not moved'
            : `${moveWords(semitones)} to ${spokenPitch(pulledPitch(neck, string.open, semitones))}`,
        sounds: prettyPitch(pulledPitch(neck, string.open, moved)),
        moved,
      };
    }),
    held: engagedWords(engaged),
    grips: gripsOf(setup, number, neck, engaged),
  };
}
