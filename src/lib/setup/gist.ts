/**
 * A setup's chart in lines of text, for where there is no room or no need for the chart itself: the
 * open strings of each neck, and what every control pulls. Each line is told twice, as it is seen and
 * as it is said.
 */
import { prettyName, spokenName } from '$lib/theory/display';
import { chromaOf, type NoteName } from '$lib/theory/pitch';
import { spelledBy } from './spelledBy';
import type { Control, Neck, Pull, Setup } from './setup';

export interface GistLine {
  /** `A (P1)`, `E9, 10 strings`. */
  readonly name: string;
  /** `5 B→C♯, 10 B→C♯`. */
  readonly seen: string;
  /** `string 5 from B to C sharp, string 10 from B to C sharp`. */
  readonly said: string;
}

export interface Gist {
  readonly necks: readonly GistLine[];
  readonly controls: readonly GistLine[];
}

const strings = (count: number): string => (count === 1 ? 'one string' : `${count} strings`);

function neckLine({ name, strings: each }: Neck): GistLine {
  return {
    name: `${name}, ${strings(each.length)}`,
    seen: each.map(({ open }) => prettyName(open)).join(' '),
    said: each.map(({ open }) => spokenName(open)).join(', '),
  };
}

/** The stops of a pull on the way from the open string, the half-stop first. */
function stopsOf(neck: Neck, pull: Pull): { from: NoteName; to: NoteName[] } | undefined {
  const open = neck.strings[pull.string - 1]?.open;
  if (open === undefined) return undefined;
  const spelled = spelledBy(neck);
  const { half, semitones } = pull;
  return {
    from: open,
    to: [...(half === undefined ? [] : [half]), semitones].map((by) =>
      spelled(chromaOf(open.midi + by)),
    ),
  };
}

function controlLine({ necks }: Setup, { id, station, pulls }: Control): GistLine {
  const stops = pulls.flatMap((pull) => {
    const neck = necks[pull.neck - 1];
    const found = neck && stopsOf(neck, pull);
    if (!found) return [];
    const { from, to } = found;
    const [seenNeck, saidNeck] = necks.length === 1 ? ['', ''] : [`${neck.name} `, `${neck.name} `];
    return [
      {
        seen: `${seenNeck}${pull.string} ${[from, ...to].map((each) => prettyName(each)).join(' → ')}`,
        said: `${saidNeck}string ${pull.string} from ${spokenName(from)} to ${to.map((each) => spokenName(each)).join(' and on to ')}`,
      },
    ];
  });
  return {
    name: id === station ? id : `${id} (${station})`,
    seen: stops.length === 0 ? 'pulls nothing' : stops.map(({ seen }) => seen).join(', '),
    said: stops.length === 0 ? 'pulls nothing' : stops.map(({ said }) => said).join(', '),
  };
}

/** A setup's necks and controls in lines, each in the order of the setup. */
export const gistOf = (setup: Setup): Gist => ({
  necks: setup.necks.map(neckLine),
  controls: setup.controls.map((control) => controlLine(setup, control)),
});

/** One line for lists: `E9 with 10 strings, 8 controls`. */
export const briefly = ({ necks, controls }: Setup): string => {
  const each = necks.map((neck) => `${neck.name} with ${strings(neck.strings.length)}`);
  const count = controls.length;
  const moved = count === 0 ? 'no controls' : count === 1 ? 'one control' : `${count} controls`;
  return `${each.join(', ')}, ${moved}`;
};
