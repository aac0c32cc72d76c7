/** Every code that there is, of every kind of document. */
import { CHART_SENTENCES } from './chartFaults';
import { KEY_SENTENCES } from './keyFaults';
import { PIECE_SENTENCES } from './pieceFaults';
import { PRACTICE_SENTENCES } from './practiceFaults';
import { SCORE_SENTENCES } from './scoreFaults';
import { SETUP_SENTENCES } from './setupFaults';

const SENTENCES = {
  ...SETUP_SENTENCES,
  ...SCORE_SENTENCES,
  ...PIECE_SENTENCES,
  ...KEY_SENTENCES,
  ...CHART_SENTENCES,
  ...PRACTICE_SENTENCES,
};

export const FAULT_CODES = Object.keys(SENTENCES) as readonly (keyof typeof SENTENCES)[];
