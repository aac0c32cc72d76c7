/** From what a player holds to what the table and the stand draw. */
import { prettyName, prettyPitch, spokenPitch } from '$lib/theory/display';
import { bassDegree, roleOf, type ToneRole } from '$lib/theory/duties';
import {
  chromaOf,
  chromaOfName,
  pitchNamed,
  type Chroma,
  type Midi,
  type NoteName,
} from '$lib/theory/pitch';
import { toneAt, type SpelledTone } from '$lib/theory/toneNames';
import type { Key } from '$lib/theory/spelling';
import { signed } from '$lib/theory/signed';
import { unreachable } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import { spelledBy } from '$lib/setup/spelledBy';
import { hasHalf, type Control, type Engaged, type Setup } from '$lib/setup/setup';
import { spokenControl } from '$lib/setup/spokenControl';
import { fretsAheadOf, type Hold } from '$lib/search/hold';
import { toneText } from '$lib/answers/voicingText';
import type {
  ControlView,
  NeckString,
  NeckTone,
  NeckView,
  ToneColour,
} from '$lib/ui/neck/neckView';

/** What the discs are read against: a chord, or a name of what sounds. */
export interface Reference {
  readonly root: NoteName;
  readonly tones: readonly SpelledTone[];
}

export type Label = 'tone' | 'note';

const COLOURS: Readonly<Record<ToneRole, ToneColour>> = {
  root: 'root',
  third: 'third',
  fifth: 'fifth',
  sixth: 'seventh',
  seventh: 'seventh',
  extension: 'extension',
  alteration: 'alteration',
  bass: 'plain',
};

const ROLE_WORDS: Readonly<Record<ToneRole, string>> = {
  root: 'root',
  third: 'third',
  fifth: 'fifth',
  sixth: 'sixth',
  seventh: 'seventh',
  extension: 'extension',
  alteration: 'alteration',
  bass: 'bass',
};

export const colourOf = (role: ToneRole): ToneColour => COLOURS[role];

function toneOf(
  midi: Midi,
  reference: Reference | undefined,
  label: Label,
  otherwise: (chroma: Chroma) => NoteName,
): NeckTone {
  const tone = reference && toneAt(reference.tones, midi);
  const name = tone?.name ?? otherwise(chromaOf(midi));
  const pitch = pitchNamed(name, midi);
  const degree =
    tone?.degree ?? (reference && bassDegree(chromaOf(midi - chromaOfName(reference.root))));
  const said = spokenPitch(pitch);
  const role = tone ? tone.role : degree === undefined ? undefined : roleOf(degree);
  return {
    text: label === 'note' || degree === undefined ? prettyName(name) : toneText(degree),
    colour: tone ? COLOURS[tone.role] : 'plain',
    spoken: tone && role ? `${ROLE_WORDS[role]}, ${said}` : `${said}, not in the chord`,
  };
}

/** The neck with bar, discs and moves. */
export function neckView(
  setup: Setup,
  hold: Hold,
  reference: Reference | undefined,
  label: Label,
  key?: Key,
): NeckView {
  const neck = setup.necks[hold.neck - 1];
  if (neck === undefined) throw new Error(`neck ${hold.neck} is not in the setup`);
  const otherwise = spelledBy(neck, key);
  const moves = movesOf(setup, hold.neck, hold.engaged);
  const ahead = fretsAheadOf(hold);
  const halves = hold.engaged.filter(({ state }) => state === 'half').map(({ id }) => id);
  const heldHalf = (string: number): boolean =>
    setup.controls.some(
      (control) =>
        halves.includes(control.id) &&
        control.pulls.some((pull) => pull.neck === hold.neck && pull.string === string),
    );
  const strings = neck.strings.map((string, index): NeckString => {
    const number = index + 1;
    const stop = hold.strings.indexOf(number);
    const move = moves[index] ?? 0;
    // under a slanted bar only the picked strings are stopped on a fret
    const sounds = ahead === undefined || stop >= 0;
    const midi = string.open.midi + move + hold.fret + (ahead?.[stop] ?? 0);
    return {
      number,
      open: prettyPitch(string.open),
      spokenOpen: spokenPitch(string.open),
      ...(string.gauge === undefined ? {} : { gauge: string.gauge }),
      ...(string.wound === undefined ? {} : { wound: string.wound }),
      picked: stop >= 0,
      ...(sounds ? { tone: toneOf(midi, reference, label, otherwise) } : {}),
      ...(move === 0
        ? {}
        : { pull: { semitones: move, text: signed(move), half: heldHalf(number) } }),
    };
  });
  const far = hold.strings[0];
  const near = hold.strings.at(-1);
  return {
    neckName: neck.name,
    frets: setup.frets,
    scaleLengthMm: setup.scaleLengthMm,
    fret: hold.fret,
    ...(ahead === undefined || far === undefined || near === undefined
      ? {}
      : { slant: hold.slant ?? 0, slantStrings: [far, near] as const }),
    strings,
  };
}

/** "Pedal A, P1: string 5 up 2, string 10 up 2". */
function spokenPulls(control: Control, neck: number): string {
  const pulls = control.pulls
    .filter((pull) => pull.neck === neck)
    .map(({ string, semitones, half }) => {
      const way = semitones > 0 ? 'up' : 'down';
      const stop = half === undefined ? '' : ` (half-stop at ${Math.abs(half)})`;
      return `string ${string} ${way} ${Math.abs(semitones)}${stop}`;
    });
  return `${spokenControl(control)}: ${pulls.length === 0 ? 'moves no string of this neck' : pulls.join(', ')}`;
}

/** The stand, with what is engaged on it. */
export function controlsView(
  setup: Setup,
  neck: number,
  engaged: readonly Engaged[],
): ControlView[] {
  return setup.controls.map((control) => {
    const { id, station } = control;
    const now = engaged.find((each) => each.id === id);
    return {
      id,
      station,
      state: now?.state ?? 'off',
      hasHalf: hasHalf(control),
      pullsHere: control.pulls.some((pull) => pull.neck === neck),
      spoken: spokenPulls(control, neck),
      reachable:
        now !== undefined || unreachable(setup, [...engaged, { id, state: 'full' }]) === undefined,
    };
  });
}
