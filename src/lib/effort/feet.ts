/**
 * What a combination of controls asks of the left foot, both knees, and the picking hand where that has
 * levers of its own: they count here, for they come with the combination and not with the grip.
 */
import {
  isHand,
  isPedal,
  kneeLever,
  pedalNumber,
  type Control,
  type Engaged,
  type KneeWay,
  type Setup,
} from '$lib/setup/setup';
import { WEIGHTS, type Term } from './weights';

/** A control as the limb feels it that works it. */
interface Felt {
  readonly id: string;
  /** 1 … 12; 0 where it is no pedal. */
  readonly pedal: number;
  readonly knee: 'left' | 'right' | undefined;
  readonly way: KneeWay | undefined;
  readonly bank: 1 | 2;
}

function feltAs({ id, station }: Control): Felt {
  if (isPedal(station))
    return { id, pedal: pedalNumber(station), knee: undefined, way: undefined, bank: 1 };
  if (isHand(station)) return { id, pedal: 0, knee: undefined, way: undefined, bank: 1 };
  const knee = station.startsWith('L') ? 'left' : 'right';
  return { id, pedal: 0, knee, ...kneeLever(station) };
}

/**
 * The middle of the pedal bar as a pedal number; the left knee hangs above it. Of several setups the
 * middle of a bar with the pedals of all.
 */
export function middlePedal(...setups: readonly Setup[]): number {
  const numbers = setups
    .flatMap(({ controls }) => controls.map(({ station }) => station))
    .filter(isPedal)
    .map(pedalNumber);
  return numbers.length === 0 ? 0 : (Math.min(...numbers) + Math.max(...numbers)) / 2;
}

/** The words of a term about a control. */
type Words = (id: string) => string;

const PEDAL_WORDS: readonly Words[] = [
  (id) => `pedal ${id}`,
  (id) => `second pedal ${id}`,
  (id) => `third pedal ${id}`,
  (id) => `fourth pedal ${id}`,
];
const LEVER: Words = (id) => `lever ${id}`;
const LIFTED: Words = (id) => `lifted knee ${id}`;
const SECOND_BANK: Words = (id) => `${id} in the second bank`;
const BESIDE_VOLUME: Words = (id) => `${id} beside the volume pedal`;
const OF_THE_HAND: Words = (id) => `lever ${id} of the picking hand`;
const HALF_STOP: Words = (id) => `half-stop of ${id}`;
const AGAINST_FOOT: Words = () => 'left knee against its foot';
const UP_AND_SIDEWAYS: Words = () => 'one knee up and sideways';

/** Tells every piece of the effort of a combination, in the order in which they are read. */
function walkHold(
  controls: ReadonlyMap<string, Felt>,
  engaged: readonly Engaged[],
  middle: number,
  tell: (value: number, words: Words, id: string) => void,
): void {
  const held: Felt[] = [];
  for (const { id } of engaged) {
    const control = controls.get(id);
    if (control !== undefined) held.push(control);
  }
  let pedals = 0;
  let stands = 0;
  for (const { id, pedal } of held)
    if (pedal > 0) {
      const at = Math.min(pedals, PEDAL_WORDS.length - 1);
      tell(WEIGHTS.pedal[at] as number, PEDAL_WORDS[at] as Words, id);
      pedals++;
      stands += pedal;
    }
  for (const { id, way } of held)
    if (way === 'up') tell(WEIGHTS.leverUp, LIFTED, id);
    else if (way !== undefined) tell(WEIGHTS.lever, LEVER, id);
  for (const { id, bank } of held) if (bank === 2) tell(WEIGHTS.secondBank, SECOND_BANK, id);
  for (const { id, knee } of held) if (knee === 'right') tell(WEIGHTS.rightKnee, BESIDE_VOLUME, id);
  for (const { id, pedal, knee } of held)
    if (pedal === 0 && knee === undefined) tell(WEIGHTS.handLever, OF_THE_HAND, id);
  for (const { id, state } of engaged) if (state === 'half') tell(WEIGHTS.halfStop, HALF_STOP, id);
  // by how many pedals the foot stands to the right of the middle; the knee that goes there is helped
  const right = pedals === 0 ? 0 : stands / pedals - middle;
  for (const { id, knee, way } of held)
    if (knee === 'left' && way !== 'up') {
      const against = WEIGHTS.kneeAgainstFoot * (way === 'left' ? right : -right);
      if (against > 0) tell(Math.min(WEIGHTS.kneeAgainstFootMost, against), AGAINST_FOOT, id);
    }
  for (const side of KNEES) {
    let levers = 0;
    for (const { knee } of held) if (knee === side) levers++;
    if (levers > 1) tell(WEIGHTS.kneeUpAndSideways, UP_AND_SIDEWAYS, '');
  }
}

const KNEES = ['left', 'right'] as const;

/** What holding controls of one setup asks: made once where many combinations are asked about. */
export class Feet {
  /** By id. */
  readonly #controls: ReadonlyMap<string, Felt>;
  readonly #middle: number;

  /**
   * @param middle the middle of the pedal bar: the setup's own where left out. A change that brings or
   *   takes a pedal does not move the others under the foot, so both its sides are held over one bar.
   */
  constructor(setup: Setup, middle = middlePedal(setup)) {
    this.#controls = new Map(setup.controls.map((each) => [each.id, feltAs(each)]));
    this.#middle = middle;
  }

  /** The terms of holding a combination; none where nothing is engaged. */
  terms(engaged: readonly Engaged[]): Term[] {
    const terms: Term[] = [];
    walkHold(this.#controls, engaged, this.#middle, (value, words, id) => {
      terms.push({ part: 'feet', name: words(id), value });
    });
    return terms;
  }

  /** The same in one number. */
  effort(engaged: readonly Engaged[]): number {
    let sum = 0;
    walkHold(this.#controls, engaged, this.#middle, (value) => {
      sum += value;
    });
    return sum;
  }
}

/** The terms of holding one combination; `middle` as in `Feet`. */
export const feetTerms = (setup: Setup, engaged: readonly Engaged[], middle?: number): Term[] =>
  new Feet(setup, middle).terms(engaged);

/** The same in one number. */
export const feetEffort = (setup: Setup, engaged: readonly Engaged[], middle?: number): number =>
  new Feet(setup, middle).effort(engaged);
