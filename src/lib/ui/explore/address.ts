/**
 * Explore's state as the part of an address after the question mark: what is asked, and what the
 * table shows. Everything that stands at its usual value is left out. Unknown or broken parts are
 * passed over, so that an old bookmark still opens.
 */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { engagedCode } from '$lib/setup/engagedText';
import { unreachable } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { QUESTION_PARTS, type QuestionPart, type QuestionTexts } from '$lib/answers/question';
import { readStrings } from '$lib/answers/questionParts';
import { readEngaged } from '$lib/answers/readEngaged';
import { within, type Hold } from '$lib/search/hold';
import { readableText, setTexts, textsIn } from '$lib/ui/parts/addressParts';
import { given } from '$lib/ui/parts/given';

/** The parts of the question that are not at their usual value. */
export type AddressTexts = { readonly [part in QuestionPart]?: string };

export interface Address {
  /** An id; whether there is such a setup is for the shelf to say. */
  readonly setup: string;
  readonly texts: AddressTexts;
  /** The table, where it does not show the first voicing found. */
  readonly table?: HoldTexts;
  /** The atlas, where it stands in place of the rows. */
  readonly atlas?: AtlasView;
  /** A scale, where that does. */
  readonly scale?: ScaleView;
}

/** What is shown of a scale: its notes under the bar, its pockets, or a ladder; all as texts. */
export interface ScaleView {
  readonly show: 'here' | 'pockets' | 'ladder';
  /** `D dorian`; empty for the scale of the chord. */
  readonly scale: string;
  /** Frets that a pocket goes up. */
  readonly pocket: string;
  readonly interval: string;
  readonly strings: string;
  readonly way: string;
  /** `on` or `off`; empty for what the setup is usually played with. */
  readonly slants: string;
}

/** As a scale is shown at first. */
export const SCALE_HOME: ScaleView = {
  ...{ show: 'here', scale: '', pocket: '2', interval: 'sixths', strings: '', way: 'both' },
  slants: '',
};

/** What the atlas shows: the best of all grips or the one that is held; chords or degrees of the key. */
export interface AtlasView {
  readonly grips: 'all' | 'held';
  readonly cells: 'chords' | 'degrees';
}

export interface HoldTexts {
  readonly neck: string;
  readonly fret: string;
  readonly slant: string;
  readonly engaged: string;
  readonly strings: string;
}

export const HOME: Address = { setup: USUAL_SETUP, texts: { chord: 'C' } };

/** All parts but the chord, which may be empty. */
const LIMITS = QUESTION_PARTS.filter((part) => part !== 'chord');

// The question's own words serve as they are; the table's are told apart from them.
const TABLE = {
  fret: 'at',
  engaged: 'engaged',
  strings: 'strings',
  neck: 'on',
  slant: 'slant',
} as const;

const SCALE = {
  scale: 'scale',
  pocket: 'pocket',
  interval: 'interval',
  strings: 'rungs',
  way: 'way',
  slants: 'slanted',
};
const SCALE_PARTS = Object.keys(SCALE) as (keyof typeof SCALE)[];

const scaleIn = (parts: URLSearchParams): ScaleView => {
  const show = parts.get('show');
  return {
    ...SCALE_HOME,
    ...Object.fromEntries(
      SCALE_PARTS.map((part) => [part, parts.get(SCALE[part]) ?? SCALE_HOME[part]]),
    ),
    ...(show === 'pockets' || show === 'ladder' ? { show } : {}),
  };
};

const ATLAS = { view: 'view', grips: 'grips', cells: 'cells' } as const;

/** The same question with some parts changed; an empty text takes a part away, but not the chord. */
export function withChange(texts: AddressTexts, change: QuestionTexts): AddressTexts {
  const changed: { [part in QuestionPart]?: string } = { ...texts };
  for (const part of Object.keys(change) as QuestionPart[]) {
    const text = change[part] ?? '';
    if (text === '' && part !== 'chord') delete changed[part];
    else changed[part] = text;
  }
  return changed;
}

/** What is asked whatever the setup: limits are made for one setup's strings and controls. */
export const forAnySetup = ({ chord, key, match, balance }: AddressTexts): AddressTexts =>
  Object.fromEntries(
    Object.entries({ chord, key, match, balance }).filter(([, text]) => text !== undefined),
  );

export function readAddress(parts: URLSearchParams): Address {
  const setup = given(parts, 'setup');
  const texts = textsIn(parts, QUESTION_PARTS);
  const fret = given(parts, TABLE.fret);
  return {
    setup: setup ?? HOME.setup,
    texts: parts.has('chord') ? texts : { ...HOME.texts, ...texts },
    ...(fret === undefined
      ? {}
      : {
          table: {
            fret,
            engaged: parts.get(TABLE.engaged) ?? '',
            strings: parts.get(TABLE.strings) ?? '',
            neck: given(parts, TABLE.neck) ?? '1',
            slant: given(parts, TABLE.slant) ?? '0',
          },
        }),
    ...(parts.get(ATLAS.view) === 'atlas'
      ? {
          atlas: {
            grips: parts.get(ATLAS.grips) === 'held' ? 'held' : 'all',
            cells: parts.get(ATLAS.cells) === 'degrees' ? 'degrees' : 'chords',
          },
        }
      : {}),
    ...(parts.get(ATLAS.view) === 'scale' ? { scale: scaleIn(parts) } : {}),
  };
}

/** The text after the question mark, without it; empty at the usual state. */
export function addressText(address: Address): string {
  const parts = new URLSearchParams();
  if (address.setup !== HOME.setup) parts.set('setup', address.setup);
  const { table, texts } = address;
  if (texts.chord !== HOME.texts.chord) parts.set('chord', texts.chord ?? '');
  setTexts(parts, LIMITS, texts);
  if (table !== undefined) {
    parts.set(TABLE.fret, table.fret);
    if (table.engaged !== '') parts.set(TABLE.engaged, table.engaged);
    parts.set(TABLE.strings, table.strings);
    if (table.neck !== '1') parts.set(TABLE.neck, table.neck);
    if (table.slant !== '0') parts.set(TABLE.slant, table.slant);
  }
  const { atlas } = address;
  if (atlas !== undefined) {
    parts.set(ATLAS.view, 'atlas');
    if (atlas.grips !== 'all') parts.set(ATLAS.grips, atlas.grips);
    if (atlas.cells !== 'chords') parts.set(ATLAS.cells, atlas.cells);
  }
  const { scale } = address;
  if (scale !== undefined) {
    parts.set(ATLAS.view, 'scale');
    if (scale.show !== SCALE_HOME.show) parts.set('show', scale.show);
    for (const part of SCALE_PARTS)
      if (scale[part] !== SCALE_HOME[part]) parts.set(SCALE[part], scale[part]);
  }
  return readableText(parts, ',/:');
}

/** What is held, as an address writes it. */
export const tableAddress = ({ neck, fret, slant, engaged, strings }: Hold): HoldTexts => ({
  neck: String(neck),
  fret: String(fret),
  slant: String(slant),
  engaged: engagedCode(engaged),
  strings: strings.join(),
});

const wholeOf = (text: string): number => Math.trunc(Number(text)) || 0;

/** What an address says is held, as far as the setup allows it. */
export function readTable(setup: Setup, table: HoldTexts): Hold {
  const { neck, fret } = within(setup, {
    neck: wholeOf(table.neck),
    fret: wholeOf(table.fret),
    slant: 0,
    engaged: [],
    strings: [],
  });
  const engaged = readEngaged(setup, table.engaged);
  return within(setup, {
    neck,
    fret,
    slant: wholeOf(table.slant),
    engaged: engaged.ok && unreachable(setup, engaged.value) === undefined ? engaged.value : [],
    strings: readStrings(table.strings, setup.necks[neck - 1]?.strings.length ?? 0) ?? [],
  });
}
