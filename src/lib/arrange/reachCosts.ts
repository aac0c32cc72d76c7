/** The prices of reaching one candidate from another in thousandths: the twin of `reachTerms` that the solver runs. */
import { gripSize } from '$lib/search/grip';
import type { Wanted } from '$lib/effort/reaching';
import { PER_UNIT } from '$lib/effort/effort';
import { REACH_WEIGHTS, type WayBalance } from '$lib/effort/weights';
import { STRIDE } from '$lib/engine/layer';
import type { Joint } from './onward';
import { STRINGS, type ToneStage } from './toneStage';

const inThousandths = (value: number): number => Math.round(value * PER_UNIT);
const STROKE = inThousandths(REACH_WEIGHTS.stroke);
const STRING = inThousandths(REACH_WEIGHTS.string);
const SLIDE = inThousandths(REACH_WEIGHTS.slide);
const SLIDE_PER_FRET = inThousandths(REACH_WEIGHTS.slidePerFret);
const PULL_PER_SEMITONE = inThousandths(REACH_WEIGHTS.pullPerSemitone);
const SAME_FINGER = inThousandths(REACH_WEIGHTS.sameFinger);
const LEAVES_CHORD = inThousandths(REACH_WEIGHTS.leavesChord);
const RESTRUCK = inThousandths(REACH_WEIGHTS.restruck);

/** The prices between the candidates of two moments. */
export function reachCosts(
  from: ToneStage,
  to: ToneStage,
  wanted: Wanted,
  balance: WayBalance,
): Joint {
  const [a, b] = [from.stage.layer, to.stage.layer];
  const [left, right] = [from.bars, to.bars];
  const { joined, melody, between, seconds } = wanted;
  const quick = seconds < REACH_WEIGHTS.quick;
  const weight = balance.picking;
  const price = (one: number, other: number): number => {
    const p = a.position[one] as number;
    const q = b.position[other] as number;
    const sameNeck = left.neck[p] === right.neck[q];
    const was = sameNeck ? (a.grip[one] as number) : 0;
    const grip = b.grip[other] as number;
    const stays = left.place[p] === right.place[q];
    let sum = 0;
    let picked = grip & ~was;
    const anew = gripSize(picked);
    let melodyRings = false;
    if (!joined) picked = grip;
    else if ((was & grip) !== 0) {
      const frets = (right.fret[q] as number) - (left.fret[p] as number);
      const straight = left.slant[p] === 0 && right.slant[q] === 0;
      const slides = straight && Math.abs(frets) <= REACH_WEIGHTS.slideMost;
      const top = melody === 'rests' ? -1 : (b.top[other] as number);
      let slid = false;
      let sung = false;
      let i = one * STRIDE;
      let j = other * STRIDE;
      for (let s = 1, string = 0; s <= grip; s <<= 1, string++) {
        const isHere = (grip & s) !== 0;
        const wasHere = (was & s) !== 0;
        if (isHere) {
          const pitch = to.sounds[j] as number;
          const sings = !sung && pitch === top;
          if (sings) sung = true;
          if (wasHere) {
            const semitones = pitch - (from.sounds[i] as number);
            if (stays) {
              if (semitones !== 0) {
                const before = from.movers[p * STRINGS + string] as number;
                const now = to.movers[q * STRINGS + string] as number;
                const isHanded = (before & ~now) !== 0 && (now & ~before) !== 0;
                if (isHanded) picked |= s;
                const beyond = Math.abs(semitones) - REACH_WEIGHTS.pullBeyond;
                if (beyond > 0 && !isHanded) sum += beyond * PULL_PER_SEMITONE;
              } else if (sings && melody === 'begins') picked |= s;
              else if (sings) melodyRings = true;
            } else if (slides && semitones === frets) slid = true;
            else picked |= s;
          }
          j++;
        }
        if (wasHere) i++;
      }
      if (slid) {
        const beyond = Math.abs(frets) - REACH_WEIGHTS.slideBeyond;
        sum += SLIDE + (beyond > 0 ? beyond * SLIDE_PER_FRET : 0);
      }
    }
    if (picked !== 0) sum += STROKE + STRING * anew;
    if (quick) {
      const twice = gripSize(picked) - anew;
      const busy = gripSize(a.grip[one] as number) + anew - REACH_WEIGHTS.fingers;
      sum += SAME_FINGER * (twice + Math.max(0, Math.min(anew, busy)));
    }
    if (between && joined && !stays) sum += LEAVES_CHORD;
    if (melody === 'lasts' && !melodyRings) sum += RESTRUCK;
    return weight === 1 ? sum : Math.round(sum * weight);
  };
  return { price };
}
