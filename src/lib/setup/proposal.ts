/**
 * A change that is proposed for a setup, in the texts of the command line's options and of the
 * page's address; and the setup as it would be.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { ok, refuse, type Result } from '$lib/result';
import { parsePitch, pitchText } from '$lib/theory/pitch';
import { controlText, readControl } from './controlText';
import { readSetup } from './readSetup';
import { STATIONS, type Control, type Setup, type Station } from './setup';
import { setupFileOf } from './writeSetup';

export interface Proposal {
  /** Controls added, or put in the place of those at their stations: `LKV:5-1,10-1`. */
  readonly with?: readonly string[];
  /** Ids of controls taken away. */
  readonly without?: readonly string[];
  /** Strings tuned otherwise: `9:C#3`, on a second neck `2.1:A4`. */
  readonly open?: readonly string[];
}

/**
 * The setup with a control at its station, in the place of what stands there; else listed before
 * those that stand right of it.
 */
export function withControl(setup: Setup, control: Control): Setup {
  const order = (station: Station): number => STATIONS.indexOf(station);
  const controls = setup.controls.filter(({ station }) => station !== control.station);
  const at = controls.findIndex(({ station }) => order(station) > order(control.station));
  const there = setup.controls.findIndex(({ station }) => station === control.station);
  controls.splice(there >= 0 ? there : at < 0 ? controls.length : at, 0, control);
  return { ...setup, controls };
}

/** The setup without a control, and without the exceptions from the reach that name it. */
export function withoutControl(setup: Setup, id: string): Setup {
  const { never, also, ...rules } = setup.reach;
  const others = (sets: readonly (readonly string[])[]): (readonly string[])[] =>
    sets.filter((ids) => !ids.includes(id));
  return {
    ...setup,
    reach: {
      ...rules,
      ...(never === undefined ? {} : { never: others(never) }),
      ...(also === undefined ? {} : { also: others(also) }),
    },
    controls: setup.controls.filter((control) => control.id !== id),
  };
}

const OPEN = /^(?:([1-3])\.)?(\d{1,2}):(.+)$/;

function retuned(setup: Setup, text: string): Result<Setup, DocumentFault> {
  const match = OPEN.exec(text.trim());
  const neck = Number(match?.[1] ?? 1);
  const string = Number(match?.[2]);
  const pitch = parsePitch(match?.[3] ?? '');
  if (setup.necks[neck - 1]?.strings[string - 1] === undefined || pitch === undefined)
    return refuse(fault('open.unreadable', 'open', text));
  const necks = setup.necks.map((each, neckIndex) =>
    neckIndex + 1 !== neck
      ? each
      : {
          ...each,
          strings: each.strings.map((own, at) =>
            at + 1 === string ? { ...own, open: pitch } : own,
          ),
        },
  );
  return ok({ ...setup, necks });
}

/** The setup as a proposal would make it, or everything that is wrong with the proposal. */
export function proposed(
  setup: Setup,
  proposal: Proposal,
): Result<Setup, readonly DocumentFault[]> {
  const faults: DocumentFault[] = [];
  let changed = setup;
  for (const id of proposal.without ?? []) {
    if (changed.controls.some((control) => control.id === id))
      changed = withoutControl(changed, id);
    else
      faults.push(
        fault(
          'without.unknown',
          'without',
          id,
          setup.controls.map((each) => each.id),
        ),
      );
  }
  for (const text of proposal.with ?? []) {
    const control = readControl(changed, text);
    if (control.ok) changed = withControl(changed, control.value);
    else faults.push(control.error);
  }
  for (const text of proposal.open ?? []) {
    const tuned = retuned(changed, text);
    if (tuned.ok) changed = tuned.value;
    else faults.push(tuned.error);
  }
  if (faults.length > 0) return refuse(faults);
  // the one reader has the last word: twenty controls at most, no string below C0
  const read = readSetup(setupFileOf(changed));
  return read.ok ? ok(changed) : refuse(read.error);
}

/** What turns one setup into another of the same necks, as a proposal. */
export function proposalBetween(before: Setup, after: Setup): Proposal {
  const gone = before.controls.filter(
    ({ station }) => !after.controls.some((each) => each.station === station),
  );
  const different = after.controls.filter(
    (control) =>
      !before.controls.some(
        (each) => each.station === control.station && controlText(each) === controlText(control),
      ),
  );
  const open = after.necks.flatMap(({ strings }, neck) =>
    strings.flatMap((string, index) =>
      before.necks[neck]?.strings[index]?.open.midi === string.open.midi
        ? []
        : [`${neck === 0 ? '' : `${neck + 1}.`}${index + 1}:${pitchText(string.open)}`],
    ),
  );
  return {
    ...(different.length === 0 ? {} : { with: different.map(controlText) }),
    ...(gone.length === 0 ? {} : { without: gone.map(({ id }) => id) }),
    ...(open.length === 0 ? {} : { open }),
  };
}

/** What a setup is called by that has a change, from the words for it: one control in full, of several only where they stand. */
export function briefly(words: string): string {
  const parts = words.split('; ');
  return parts.length === 1 ? words : parts.map((part) => part.split(':')[0]).join(' and ');
}

/**
 * The same of a proposal in its own texts, in letters and signs that are typed, for a name in a file:
 * `LKV:5-1,10-1`; of several `LKV and without C`.
 */
export const proposalName = ({ with: controls, without, open }: Proposal): string =>
  briefly(
    [
      ...(controls ?? []),
      ...(without ?? []).map((id) => `without ${id}`),
      ...(open ?? []).map((text) => `string ${text.replace(':', ' as ')}`),
    ].join('; '),
  );
