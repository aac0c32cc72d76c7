/** What is wrong in a field of Explore, told by the name that stands above the field. */
import { foundText } from '$lib/answers/options';
import type { QuestionFault, QuestionPart } from '$lib/answers/question';

/** The fields by the parts of the question that they ask. */
export const FIELDS: Readonly<Record<QuestionPart, string>> = {
  chord: 'Chord',
  key: 'Key',
  neck: 'Neck',
  frets: 'Frets',
  sizes: 'Strings at once',
  match: 'Tones',
  grip: 'Only these strings',
  top: 'Note on top',
  bass: 'Note in the bass',
  without: 'Without these controls',
  home: 'Start from fret',
  slants: 'Slanted bar',
  balance: 'Weighting',
};

/** A fault as a sentence; what is wrong at a marked place is one already. */
export const fieldFaultText = (fault: QuestionFault): string =>
  fault.mark === undefined ? `${FIELDS[fault.path]}: ${foundText(fault)}` : fault.allowed;
