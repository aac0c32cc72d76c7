/** A scale under the bar: what each string gives of it, and what one control more would add. */
import { has } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Scale } from '$lib/theory/scales';
import { unreachable, type Choice } from '$lib/setup/reach';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';

/** A note of the scale that a string has with one control more. */
export interface AddedNote {
  /** The control, pressed so far. */
  readonly control: Engaged;
  readonly pitch: Midi;
}

/** One string under the bar. */
export interface ScaleString {
  /** From 1. */
  readonly string: number;
  readonly pitch: Midi;
  /** That pitch is a note of the scale. */
  readonly inScale: boolean;
  /** In the order of the setup's controls, a half-stop before the full one. */
  readonly added: readonly AddedNote[];
}

/** Where hands and feet are. */
export interface AtBar {
  /** From 1. */
  readonly neck: number;
  readonly fret: number;
  readonly engaged: Choice;
}

/** Every control that can be engaged besides what is engaged, in every state that it has. */
export function oneMore(setup: Setup, engaged: Choice): Engaged[] {
  return setup.controls.flatMap((control): Engaged[] => {
    const others = engaged.filter(({ id }) => id !== control.id);
    const now = engaged.find(({ id }) => id === control.id)?.state;
    const states = hasHalf(control) ? (['half', 'full'] as const) : (['full'] as const);
    return states
      .filter((state) => state !== now)
      .map((state) => ({ id: control.id, state }))
      .filter((each) => unreachable(setup, [...others, each]) === undefined);
  });
}

/** The same controls with one of them so, or one more. */
const withOne = (engaged: Choice, control: Engaged): Choice => [
  ...engaged.filter(({ id }) => id !== control.id),
  control,
];

/** Every string of a neck under a straight bar. */
export function scaleAtBar(
  setup: Setup,
  { pitchClasses }: Pick<Scale, 'pitchClasses'>,
  { neck, fret, engaged }: AtBar,
): ScaleString[] {
  const inScale = (midi: Midi): boolean => has(pitchClasses, chromaOf(midi));
  const more = oneMore(setup, engaged).map((control) => ({
    control,
    sounds: sounding(setup, neck, withOne(engaged, control), fret),
  }));
  return sounding(setup, neck, engaged, fret).map((pitch, at) => ({
    string: at + 1,
    pitch,
    inScale: inScale(pitch),
    added: more.flatMap(({ control, sounds }): AddedNote[] => {
      const raised = sounds[at] as Midi;
      return raised !== pitch && inScale(raised) ? [{ control, pitch: raised }] : [];
    }),
  }));
}
