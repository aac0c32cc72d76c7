/** A control as it is named aloud. */
import {
  isPedal,
  kneeLever,
  type Control,
  type HandStation,
  type PedalStation,
  type Station,
} from './setup';

const HAND_WORDS: Readonly<Record<HandStation, string>> = {
  WRIST: 'wrist of the picking hand',
  PALM1: 'first under the palm',
  PALM2: 'second under the palm',
};

/** Which limb goes which way to a lever: "left knee up", "right knee left, second bank". */
function leverWords(station: Exclude<Station, PedalStation>): string {
  if (station === 'WRIST' || station === 'PALM1' || station === 'PALM2') return HAND_WORDS[station];
  const { way, bank } = kneeLever(station);
  const knee = station.startsWith('L') ? 'left' : 'right';
  return `${knee} knee ${way}${bank === 2 ? ', second bank' : ''}`;
}

/** "Pedal A, P1"; a lever with the way it goes: "Lever LKL, left knee left". */
export function spokenControl({ id, station }: Pick<Control, 'id' | 'station'>): string {
  if (!isPedal(station)) return `Lever ${id}, ${leverWords(station)}`;
  return id === station ? `Pedal ${id}` : `Pedal ${id}, ${station}`;
}
