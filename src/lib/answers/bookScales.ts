/** Ladders and scales for a book. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { nameText } from '$lib/theory/pitch';
import { scaleOn, scaleTypeNamed, type Scale } from '$lib/theory/scales';
import type { Key } from '$lib/theory/spelling';
import { toneAt } from '$lib/theory/toneNames';
import { chordWith } from '$lib/theory/wantedType';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import { scaleAtBar, type AddedNote } from '$lib/scales/atBar';
import { ladder, refusedLadder } from '$lib/scales/ladders';
import { inPocketOrder, pocketsIn, priced, runThrough } from '$lib/scales/pockets';
import type { BookSection, NeckGroup, PaperString } from '$lib/formats/book';
import { tabOfSteps } from '$lib/formats/stepsTab';
import { FRETS, positionsOfChord } from './bookPositions';
import type { BookQuestion } from './bookQuestion';
import { capital, keyWords, tonesText } from './bookWords';
import { lies, neckName, stringsOf } from './paperNeck';
import { toneText } from './voicingText';

/** The key's scale along the neck, an interval a group. */
export function ladderSection(setup: Setup, { key, ladders }: BookQuestion): BookSection {
  const scale = scaleNamed(key, key.mode);
  return {
    title: `Ladders in ${keyWords(key)}`,
    words: ['The scale along the neck, with the least work that there is.'],
    groups: setup.necks.flatMap((_, index) =>
      ladders.flatMap((interval): NeckGroup[] => {
        if (refusedLadder(scale, interval) !== undefined) return [];
        const neck = index + 1;
        const slants = slantsByDefault(setup);
        const frets = [0, setup.frets] as const;
        const found = ladder(setup, scale, { neck, frets, slants, interval, way: 'up' });
        if (found === undefined) return [];
        const on = neckName(setup, neck);
        return [
          {
            name: `${capital(interval)}${on === '' ? '' : ` on the ${on} neck`}`,
            words: [],
            necks: [],
            tab: tabOfSteps({
              title: '',
              setup,
              steps: found.rungs.map(({ step }) => step),
              above: found.rungs.map(({ degree }) => toneText(degree)),
            }),
          },
        ];
      }),
    ),
  };
}

const scaleNamed = ({ tonic }: Key, name: string): Scale => {
  const type = scaleTypeNamed(name);
  if (type === undefined) throw new Error(`the dictionary of scales has no "${name}"`);
  return scaleOn(tonic, type);
};

/** Positions of the tonic's chord among which the one without pedals and levers is looked for. */
const MOST = 10;
/** Frets that a pocket of the book goes through. */
const STRETCH = 2;
/** Notes that one control more adds to a string, as many as are told. */
const ADDED = 2;

function scaleGroup(setup: Setup, neck: number, scale: Scale, fret: number): NeckGroup {
  const at = scaleAtBar(setup, scale, { neck, fret, engaged: [] });
  const inScale = at.filter((each) => each.inScale).map(({ string }) => string);
  const strings = stringsOf(setup, {
    ...{ neck, fret, engaged: [], grips: [inScale], tones: scale.tones },
  }).map((each, index): PaperString => {
    const added = at[index]?.added ?? [];
    return { ...each, beside: addedText(added, scale) };
  });
  const on = neckName(setup, neck);
  const pockets = pocketsIn(setup, scale, neck, STRETCH, [
    0,
    Math.min(FRETS + STRETCH, setup.frets),
  ]);
  const [best] = inPocketOrder(pockets.map((each) => priced(setup, scale, neck, each)));
  const run = best === undefined ? undefined : runThrough(setup, scale, neck, best);
  const name = `${prettySymbol(nameText(scale.root))} ${scale.type}`;
  return {
    name: `${capital(name)}${on === '' ? '' : ` on the ${on} neck`}`,
    aside: tonesText(scale.tones),
    words:
      best === undefined
        ? []
        : [
            `Below the neck: up and down through the frets ${best.frets.join(' to ')}, where the run asks for the least work.`,
          ],
    necks: [
      {
        neck,
        name: 'Under the bar',
        remark: lies(setup, { neck, fret, slant: 0 }),
        fret,
        engaged: [],
        strings,
        grips: [],
        missing: [],
      },
    ],
    ...(run === undefined ? {} : { tab: tabOfSteps({ title: '', setup, steps: run.steps }) }),
  };
}

/** `A 6 · B½ ♭7`: what one control more makes of a string. */
const addedText = (added: readonly AddedNote[], scale: Scale): string =>
  added
    .slice(0, ADDED)
    .map(
      ({ control, pitch }) =>
        `${engagedText([control])} ${toneText(toneAt(scale.tones, pitch)?.degree ?? '')}`,
    )
    .join(' · ');

/** Scales on the key's tonic. */
export function scaleSection(setup: Setup, { key, scales }: BookQuestion): BookSection {
  const chord = chordWith(key.tonic, key.mode === 'minor' ? 'm' : '');
  return {
    title: `Scales on ${prettyName(key.tonic)}`,
    words: [
      'What of each scale lies under the bar, and beside each string what one pedal or lever more makes of it.',
    ],
    groups: setup.necks.flatMap((_, index) =>
      scales.map((name) => {
        const neck = index + 1;
        const positions = positionsOfChord(setup, chord, MOST, [neck]);
        const open = positions.find(({ voicing }) => voicing.ways[0]?.length === 0);
        const fret = (open ?? positions[0])?.voicing.fret ?? 0;
        return scaleGroup(setup, neck, scaleNamed(key, name), fret);
      }),
    ),
  };
}
