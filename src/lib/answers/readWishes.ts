/**
 * Wishes as they are written: short texts from the command line's options and the page's address alike.
 * What contradicts itself is told here, before anything is searched.
 */
import { ok, refuse, type Result } from '$lib/result';
import { CHORD_SIGNS } from '$lib/theory/chordSigns';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import { EVEN_WAY } from '$lib/effort/weights';
import { HARMONIES, TEXTURES, type Textures } from '$lib/arrange/texture';
import { BASS_WISHES, MELODY_WISHES, noWishes, type Wishes } from '$lib/arrange/wishes';
import {
  FRET,
  GRIPS,
  MATCH,
  NECK,
  ON_OR_OFF,
  CHORD_SIZES,
  WITHOUT,
  balanceOption,
  fretsOption,
  wholeOption,
  wordOption,
} from './commonOptions';
import { readOptions, type OptionFault, type OptionTable, type OptionValues } from './options';
import { LIST_OF_WHOLES, readWholes } from './questionParts';
import { LOCKS } from './stepWishes';
import type { WishPart, WishTexts } from './wishParts';
import { MEASURES, NOTES, STRIKE } from './tuneWishes';

/** A fault in the wishes, under the part it is in. */
export type WishFault = OptionFault<WishPart>;

/** Widest pocket that can be asked for. */
const MOST_POCKET = 12;

const WISHES = {
  top: wordOption(MELODY_WISHES, 'exact, octave (any octave) or off'),
  bass: wordOption(BASS_WISHES, 'clear (unless it makes a cluster), grip or band'),
  match: MATCH,
  frets: fretsOption('3-8'),
  home: FRET,
  sizes: CHORD_SIZES,
  neck: NECK,
  prefer: GRIPS,
  avoid: GRIPS,
  without: WITHOUT,
  must: {
    form: LIST_OF_WHOLES,
    read: (text: string) => readWholes(text, 1, 13),
    allowed: () => 'degrees such as 1,5 (1 to 13)',
  },
  pocket: wholeOption([0, MOST_POCKET], `a number of frets, 0 to ${MOST_POCKET}`),
  end: wordOption(['free', 'same'], 'free, or same (the bar ends where it began)'),
  passes: wordOption(['same', 'free'], 'same (what is repeated is played alike), or free'),
  slants: ON_OR_OFF,
  balance: balanceOption(EVEN_WAY),
  locks: LOCKS,
  texture: wordOption(TEXTURES),
  harmony: wordOption(HARMONIES),
  measures: MEASURES,
  notes: NOTES,
  strike: STRIKE,
  // how chords are written, which no arrangement depends on
  signs: wordOption(CHORD_SIGNS),
} as const satisfies OptionTable & Record<WishPart, unknown>;

/** Reads all wishes about a setup; every fault is told, each under its part. */
export function readWishes(setup: Setup, texts: WishTexts): Result<Wishes, readonly WishFault[]> {
  const { values, faults } = readOptions(WISHES, setup, texts);
  const none = noWishes(slantsByDefault(setup));
  const all = [...faults, ...contradictions({ sizes: none.sizes, ...values })];
  if (all.length > 0) return refuse(all);
  const {
    top,
    neck,
    end,
    passes,
    locks,
    texture: _texture,
    harmony: _harmony,
    measures: _measures,
    strike,
    signs: _signs,
    ...given
  } = values;
  const textures = texturesOf(values);
  return ok({
    ...none,
    ...given,
    ...(top === undefined ? {} : { melody: top }),
    ...(neck === undefined ? {} : { necks: [neck] }),
    ...(locks === undefined ? {} : { steps: locks }),
    ...(textures === undefined ? {} : { textures }),
    ...(strike === undefined ? {} : { strikes: strike }),
    ...(passes === 'free' ? { freePasses: true } : {}),
    endAsBegun: end === 'same',
  });
}

/** What is played where; `undefined` where it is a voicing a chord, or where nothing is said. */
function texturesOf({
  texture,
  harmony,
  measures = [],
}: Pick<OptionValues<typeof WISHES>, 'texture' | 'harmony' | 'measures'>): Textures | undefined {
  if (texture === undefined && harmony === undefined && measures.length === 0) return undefined;
  return {
    // where chords are to stand is said of chords with the tune on top
    texture: texture ?? (harmony === undefined ? 'chords' : 'chord-melody'),
    harmony: harmony ?? 'changes',
    measures,
  };
}

/** Wishes that no voicing could satisfy together. */
function contradictions(
  wishes: OptionValues<typeof WISHES> & Pick<Wishes, 'sizes'>,
): readonly WishFault[] {
  const { sizes, frets, prefer = [], avoid = [], without = [], pocket, locks } = wishes;
  const faults: WishFault[] = [];
  const tell = (path: WishPart, found: string, allowed: string): void =>
    void faults.push({ path, found, allowed, wrong: 'impossible' });

  const avoided = avoid.map((grip) => grip.join('-'));
  const [fewest, most] = sizes;
  for (const grip of prefer) {
    const text = grip.join('-');
    if (avoided.includes(text))
      tell('prefer', `${text}, which avoid names too`, 'a grip in one of the two');
    if (grip.length < fewest || grip.length > most)
      tell(
        'prefer',
        `${text}, which has ${grip.length} strings`,
        `grips of the asked sizes, ${fewest} to ${most} strings`,
      );
  }

  const steps = [...(locks ?? [])];
  for (const [place, { hold, fret: alone, anyFret, anyControl }] of steps) {
    const chord = `chord ${place + 1} locked`;
    const fret = hold?.fret ?? alone;
    if (fret !== undefined && frets && !anyFret && (fret < frets[0] || fret > frets[1]))
      tell(
        'locks',
        `${chord} at fret ${fret}`,
        `a fret within the asked range, ${frets.join('-')}`,
      );
    const used = hold?.engaged.find(({ id }) => without.includes(id));
    if (used !== undefined && !anyControl)
      tell('locks', `${chord} with ${used.id}`, `controls other than ${without.join(', ')}`);
    if (hold !== undefined && alone !== undefined && hold.fret !== alone)
      tell('locks', `${chord} at frets ${hold.fret} and ${alone}`, 'one fret');
  }

  const locked = steps.flatMap(([, { hold, fret }]) => hold?.fret ?? fret ?? []);
  const span = Math.max(...locked) - Math.min(...locked);
  if (pocket !== undefined && span > pocket)
    tell(
      'pocket',
      `${pocket}, while locks lie ${span} frets apart`,
      `a pocket of ${span} frets or more, or fewer locks`,
    );
  return faults;
}
