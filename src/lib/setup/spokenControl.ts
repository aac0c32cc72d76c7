/** A control as it is named aloud. */
import { isPedal, type Control, type KneeStation } from './setup';

const LEVER_WORDS: Readonly<Record<KneeStation, string>> = {
  LKL: 'left knee left',
  LKV: 'left knee up',
  LKR: 'left knee right',
  RKL: 'right knee left',
  RKV: 'right knee up',
  RKR: 'right knee right',
};

/** "Pedal A, P1"; a lever with the way it goes: "Lever LKL, left knee left". */
export function spokenControl({ id, station }: Pick<Control, 'id' | 'station'>): string {
  if (!isPedal(station)) return `Lever ${id}, ${LEVER_WORDS[station]}`;
  return id === station ? `Pedal ${id}` : `Pedal ${id}, ${station}`;
}
