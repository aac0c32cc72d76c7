/** What would work where a question finds nothing: one limit loosened at a time, each tried. */
import type { Setup } from '$lib/setup/setup';
import { answer } from './answer';
import { readQuestion, type QuestionPart, type QuestionTexts } from './question';

export interface Loosened {
  /** The parts of the question to change; an empty text leaves a part out. */
  readonly change: { readonly [part in QuestionPart]?: string };
  /** "allow rootless voicings" */
  readonly words: string;
  readonly count: number;
}

interface Attempt {
  readonly change: Loosened['change'];
  readonly words: string;
  /** The part that has to be set for the attempt to loosen anything. */
  readonly needs?: QuestionPart;
}

const ATTEMPTS: readonly Attempt[] = [
  { change: { match: 'partial' }, words: 'allow voicings that leave a tone out' },
  { change: { match: 'rootless' }, words: 'allow voicings without the root' },
  { change: { top: '' }, words: 'allow any note on top', needs: 'top' },
  { change: { bass: '' }, words: 'allow any note in the bass', needs: 'bass' },
  { change: { frets: '' }, words: 'look along the whole neck', needs: 'frets' },
  { change: { grip: '' }, words: 'use all strings', needs: 'grip' },
  { change: { without: '' }, words: 'use all controls', needs: 'without' },
  { change: { slants: 'on' }, words: 'slant the bar' },
  { change: { sizes: '2-4' }, words: 'play it on two strings' },
  { change: { sizes: '3-6' }, words: 'play it on up to six strings' },
  { change: { sizes: '2', match: 'rootless' }, words: 'play two of its tones' },
  {
    change: {
      match: 'rootless',
      sizes: '1-6',
      frets: '',
      grip: '',
      top: '',
      bass: '',
      without: '',
      slants: 'on',
    },
    words: 'drop every limit',
  },
];

/** Attempts that find something, in the order of how little they give up; at most `most`. */
export function nearest(setup: Setup, texts: QuestionTexts, most = 3): Loosened[] {
  const found: Loosened[] = [];
  for (const { change, words, needs } of ATTEMPTS) {
    if (found.length === most) break;
    if (needs !== undefined && !texts[needs]) continue;
    const read = readQuestion(setup, { ...texts, ...change });
    if (!read.ok) continue;
    const { count } = answer(setup, read.value);
    // the same number again is the same voicings, offered for less before
    if (count > 0 && !found.some((less) => less.count === count))
      found.push({ change, words, count });
  }
  return found;
}
