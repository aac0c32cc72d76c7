/** What every string of a setup bears: tension, stress, share of its strength, headroom, slack. */
import { hzOf, type Pitch } from '$lib/theory/pitch';
import type { Setup, SetupString } from '$lib/setup/setup';
import { DEFAULT_BANDS, bandAbove, bandBelow, worse, type Band, type BandSettings } from './bands';
import { compassOf, type Compass } from './compass';
import { semitonesOf, tensionFactor, tensionN } from './tension';
import { wireOf, type Wire } from './wire';

export interface Load {
  readonly wire: Wire;
  /** Open, in newtons. */
  readonly tensionN: number;
  /** Of the bearing steel, open, in MPa. */
  readonly stressMpa: number;
  /** Stress over the least tensile strength of the wire, open. */
  readonly shareOpen: number;
  /** … and at the highest raise. */
  readonly shareTop: number;
  readonly tensionTopN: number;
  /** At the lowest lower. */
  readonly tensionBottomN: number;
  /** Semitones from the highest raise to breaking; less than 0 where that lies beyond. */
  readonly headroomSemitones: number;
  readonly headroomCents: number;
  /** The core of a wound string is guessed. */
  readonly estimate: boolean;
  readonly bands: { readonly strength: Band; readonly slack: Band; readonly heavy: Band };
  /** The worst of them. */
  readonly band: Band;
}

export interface StringLoad {
  /** From 1. */
  readonly neck: number;
  /** From 1, the farthest from the player. */
  readonly string: number;
  readonly open: Pitch;
  readonly gauge?: number;
  readonly wound: boolean;
  readonly compass: Compass;
  /** Left out where nothing can be said. */
  readonly load?: Load;
  /** Why nothing can be said, as a sentence. */
  readonly missing?: string;
}

/** What length and pitch a string is tuned to. */
type Instrument = Pick<Setup, 'scaleLengthMm' | 'referenceHz'>;

/** The load of one string within a compass; the sentence that says why where there is none. */
export function loadOf(
  instrument: Instrument,
  string: SetupString,
  { up, down }: Compass,
  bands: BandSettings = DEFAULT_BANDS,
): { readonly load: Load } | { readonly why: string } {
  const made = wireOf(string);
  if ('why' in made) return made;
  const { wire } = made;
  const hz = hzOf(string.open.midi, instrument.referenceHz);
  const open = tensionN(wire.massPerM, instrument.scaleLengthMm, hz);
  const tensionTopN = open * tensionFactor(up);
  const tensionBottomN = open * tensionFactor(down);
  const shareOpen = open / wire.areaMm2 / wire.strengthMpa;
  const shareTop = shareOpen * tensionFactor(up);
  const headroomSemitones = semitonesOf(1 / shareTop);
  const judged = {
    strength: bandAbove(shareTop, bands.shareNear, bands.shareBeyond),
    slack: bandBelow(tensionBottomN, bands.slackNearN, bands.slackBeyondN),
    heavy: bandAbove(tensionTopN, bands.heavyNearN, bands.heavyBeyondN),
  };
  return {
    load: {
      wire,
      tensionN: open,
      stressMpa: open / wire.areaMm2,
      shareOpen,
      shareTop,
      tensionTopN,
      tensionBottomN,
      headroomSemitones,
      headroomCents: 100 * headroomSemitones,
      estimate: (string.wound ?? false) && string.coreGauge === undefined,
      bands: judged,
      band: worse(worse(judged.strength, judged.slack), judged.heavy),
    },
  };
}

/** The loads of all strings, neck by neck, string 1 first. */
export function stringLoads(setup: Setup, bands: BandSettings = DEFAULT_BANDS): StringLoad[] {
  return setup.necks.flatMap((neck, n) =>
    neck.strings.map((string, s): StringLoad => {
      const compass = compassOf(setup, n + 1, s + 1);
      const found = loadOf(setup, string, compass, bands);
      return {
        neck: n + 1,
        string: s + 1,
        open: string.open,
        ...(string.gauge === undefined ? {} : { gauge: string.gauge }),
        wound: string.wound ?? false,
        compass,
        ...('load' in found ? { load: found.load } : { missing: found.why }),
      };
    }),
  );
}

/** Newtons on the body of the strings that have figures, with the strings that have none. */
export function totalOf(loads: readonly StringLoad[]): {
  readonly totalN: number;
  readonly without: number;
} {
  return {
    totalN: loads.reduce((sum, { load }) => sum + (load?.tensionN ?? 0), 0),
    without: loads.filter(({ load }) => load === undefined).length,
  };
}
