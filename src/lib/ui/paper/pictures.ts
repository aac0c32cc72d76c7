/** What the places show, as drawings for pictures; what draws is loaded with the first one. */
import type { Drawing } from '$lib/formats/drawing';
import type { PaperNeck } from '$lib/formats/book';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { engagedText } from '$lib/setup/engagedText';
import type { NeckView, Spacing } from '$lib/ui/neck/neckView';

/** What stands under a picture of a hold: setup, where it lies, what is engaged. */
export async function aboutHold(setup: Setup, hold: Hold): Promise<string> {
  const { lies } = await import('$lib/answers/paperNeck');
  const engaged = engagedText(hold.engaged);
  return [setup.name, lies(setup, hold), ...(engaged === '' ? [] : [engaged])].join(' · ');
}

/** The neck on show. */
export async function pictureOfNeck(
  view: NeckView,
  { title, about, spacing }: { title: string; about: string; spacing: Spacing },
): Promise<Drawing> {
  const { neckPicture } = await import('$lib/formats/neckPicture');
  const { frets, fret, slant = 0, strings } = view;
  return neckPicture({
    ...{ title, about, frets, spacing, fret, slant },
    slantStrings: view.slantStrings ?? [1, strings.length],
    strings: strings.map(({ open, picked, tone, pull }) => ({
      ...{ open, picked },
      ...(tone === undefined
        ? {}
        : { tone: tone.text, ...(tone.small === undefined ? {} : { beside: tone.small }) }),
      ...(pull === undefined ? {} : { moved: pull.text }),
    })),
  });
}

/** The copedent of a neck. */
export const pictureOfCopedent = async (setup: Setup, neck: number): Promise<Drawing> =>
  (await import('$lib/formats/copedentPicture')).copedentPicture(setup, neck);

/** Hands and feet at one of the positions of a strip. */
export interface StripStep {
  readonly name: string;
  readonly neck: number;
  readonly fret: number;
  readonly slant: number;
  readonly strings: readonly number[];
  /** The fret at each of the strings. */
  readonly frets: readonly number[];
  readonly engaged: Choice;
  readonly tones: readonly SpelledTone[];
  readonly missing: readonly string[];
  readonly effort: number;
}

/** A strip of positions. */
export async function pictureOfStrip(
  setup: Setup,
  title: string,
  steps: readonly StripStep[],
): Promise<Drawing> {
  const [{ stripPicture }, { gripTexts, lies, stringsOf }, { toneText }] = await Promise.all([
    import('$lib/formats/stripPicture'),
    import('$lib/answers/paperNeck'),
    import('$lib/answers/voicingText'),
  ]);
  const necks = steps.map((step): PaperNeck => {
    const { name, neck, fret, strings, engaged, tones, effort } = step;
    const frets = new Map(strings.map((string, at) => [string, step.frets[at] ?? fret] as const));
    return {
      ...{ name, neck, fret, engaged, effort },
      remark: lies(setup, step),
      strings: stringsOf(setup, { neck, fret, engaged, frets, grips: [strings], tones }),
      grips: gripTexts([strings]),
      missing: step.missing.map(toneText),
    };
  });
  return stripPicture({ title, about: setup.name, necks });
}
