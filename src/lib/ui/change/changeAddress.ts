/**
 * The page's state as the part of an address after the question mark: the setup, what is proposed
 * for it, where the bar lies, which station is worked on, what a search for pulls asks. What stands
 * at its usual value is left out; broken parts are passed over.
 */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import type { Proposal } from '$lib/setup/proposal';
import { isStation } from '$lib/setup/controlText';
import type { Station } from '$lib/setup/setup';
import { SUGGEST_PARTS, type SuggestPart } from '$lib/answers/readSuggestion';
import { oneOf } from '$lib/answers/questionParts';
import { LISTS, type ListName } from '$lib/coverage/changeKinds';
import { readableText, setTexts, textsIn, wholeIn } from '$lib/ui/parts/addressParts';
import { given } from '$lib/ui/parts/given';

/** The texts of a search, apart from the station. */
export type OptionTexts = { readonly [part in Exclude<SuggestPart, 'station'>]?: string };

export interface ChangeAddress {
  readonly setup: string;
  readonly proposal: Proposal;
  /** Where the bar lies. */
  readonly fret: number;
  /** The station that is worked on. */
  readonly station?: Station;
  /** The control that is put in question. */
  readonly learn?: string;
  readonly list?: ListName;
  readonly options: OptionTexts;
  /** Pulls that break or slacken a string are tried too. */
  readonly anyStrain: boolean;
}

/** E lies open on an E9; at the third fret it is G, and there is room on both sides. */
export const USUAL_FRET = 3;

const OPTION_PARTS = SUGGEST_PARTS.filter((part) => part !== 'station');

export function readChangeAddress(parts: URLSearchParams): ChangeAddress {
  const several = (part: string): string[] =>
    parts.getAll(part).filter((text) => text.trim() !== '');
  const station = parts.get('station') ?? '';
  const list = oneOf(LISTS, parts.get('list'));
  const learn = given(parts, 'learn');
  const [controls, without, open] = [several('with'), several('without'), several('open')];
  return {
    setup: given(parts, 'setup') ?? USUAL_SETUP,
    proposal: {
      ...(controls.length === 0 ? {} : { with: controls }),
      ...(without.length === 0 ? {} : { without }),
      ...(open.length === 0 ? {} : { open }),
    },
    fret: wholeIn(parts, 'at', USUAL_FRET, [0, Infinity]),
    ...(isStation(station) ? { station } : {}),
    ...(learn === undefined ? {} : { learn }),
    ...(list === undefined ? {} : { list }),
    options: textsIn(parts, OPTION_PARTS),
    anyStrain: parts.get('strain') === 'any',
  };
}

/** The text after the question mark, without it; empty at the usual state. */
export function changeAddressText(address: ChangeAddress): string {
  const { proposal, options } = address;
  const parts = new URLSearchParams();
  if (address.setup !== USUAL_SETUP) parts.set('setup', address.setup);
  for (const part of ['with', 'without', 'open'] as const)
    for (const text of proposal[part] ?? []) parts.append(part, text);
  if (address.fret !== USUAL_FRET) parts.set('at', String(address.fret));
  if (address.station !== undefined) parts.set('station', address.station);
  if (address.learn !== undefined) parts.set('learn', address.learn);
  if (address.list !== undefined) parts.set('list', address.list);
  setTexts(parts, OPTION_PARTS, options);
  if (address.anyStrain) parts.set('strain', 'any');
  return readableText(parts, ',/:@');
}
