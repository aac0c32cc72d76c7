/**
 * The string behind measured partials: f(n) = n f √(1 + B n²) (Fletcher, "Normal vibration frequencies of a
 * stiff piano string", JASA 36, 1964), fitted so that one partial that is off does not pull it along.
 */

/** A partial as it was measured. */
export interface PartialPitch {
  /** 1 is the lowest. */
  readonly number: number;
  /** How far hz/number is from the string's wanted pitch, in cents. */
  readonly cents: number;
  /** How unsure that is, in cents. */
  readonly unsure: number;
  /** No other tone lies near it. */
  readonly alone: boolean;
  /** It was followed, and moves as its string does or is the more unsure: no other tone is taken for it. */
  readonly followed?: boolean;
}

/** How likely a tone that is found is not the partial it seems, against one that lies where it should. */
const STRANGE_ALONE = 1e-12;
/** The same where another tone lies near. */
const STRANGE_BESIDE = 0.2;

/** So many cents may a partial stray that was followed. */
const STRAY_FOLLOWED = 1;

/** Partials that tell the pitch of a string: what is heard follows the loud low ones. */
const TELLING = 2;

/**
 * The pitch that is heard, in cents from the wanted one: of the two lowest partials each counts by its
 * energy. One that was not measured, or not well, is taken from the law.
 */
export function heardCents(
  law: Law,
  partials: readonly PartialPitch[],
  energies: readonly number[],
): { readonly cents: number; readonly unsure: number } {
  let [sum, all, square] = [0, 0, 0];
  for (let number = 1; number <= TELLING; number++) {
    const energy = energies[number - 1] ?? 0;
    const byLaw = law.cents + stiffCents(law.stiffness, number);
    const found = partials.find((each) => each.number === number);
    const followed = found?.followed === true;
    const lawSpread = (followed ? STRAY_FOLLOWED : STRAY) ** 2 + law.unsure * law.unsure;
    let [cents, spread] = [byLaw, lawSpread];
    if (found !== undefined) {
      // what is far off the law is likelier another tone than this partial
      const off = (found.cents - byLaw) ** 2 / (lawSpread + found.unsure ** 2);
      const likely = Math.exp(-off / 2);
      const strange = found.alone ? STRANGE_ALONE : STRANGE_BESIDE;
      const own = followed ? 1 : likely / (likely + strange);
      const trust = 1 / (found.unsure ** 2 + 1e-4);
      const total = trust + 1 / lawSpread;
      const both = (trust * found.cents + byLaw / lawSpread) / total;
      cents = own * both + (1 - own) * byLaw;
      spread = own / total + (1 - own) * lawSpread;
    }
    sum += energy * cents;
    square += energy * spread;
    all += energy;
  }
  return all > 0
    ? { cents: sum / all, unsure: Math.sqrt(square / all) }
    : { cents: law.cents, unsure: law.unsure };
}

/** A string's pitch against the wanted one. */
export interface Law {
  /** Of f in the law, in cents from the wanted pitch. */
  readonly cents: number;
  /** B of the law. */
  readonly stiffness: number;
  /** How unsure `cents` is, in cents. */
  readonly unsure: number;
}

/** Cents by which a partial of number n is sharp: this, times B n². */
const CENTS_A_STIFFNESS = 600 / Math.LN2;

/** What is known of a guitar's strings before anything is measured: B, and its spread. */
export const USUAL_STIFFNESS = 6e-5;
const STIFFNESS_SPREAD = 1e-4;
const STIFFEST = 1e-3;

/** So many cents do the lowest partials of real strings stray from the law … */
const STRAY = 0.5;
/** … and so many more with every partial above the second. */
const STRAY_A_PARTIAL = 0.12;
/** A partial off by more than so many times what it may be counts little (Cauchy). */
const TUNING = 2;

/** How far a partial lies from the string's plain multiple, in cents. */
export const stiffCents = (stiffness: number, number: number): number =>
  CENTS_A_STIFFNESS * Math.log1p(stiffness * number * number);

/** The law of a string; nothing where no partial says anything. */
export function lawOf(partials: readonly PartialPitch[], startsAt: number): Law | undefined {
  if (partials.length === 0) return undefined;
  const spreads = partials.map(({ number, unsure }) =>
    Math.hypot(unsure, STRAY + STRAY_A_PARTIAL * Math.max(0, number - 2)),
  );
  let cents = startsAt;
  let stiffness = USUAL_STIFFNESS;
  let unsure = Infinity;
  for (let round = 0; round < 12; round++) {
    // what is known beforehand, as one more measurement of B; and a faint one of the pitch
    let [w, wx, wy, wxx, wxy] = [1e-6, 0, 1e-6 * startsAt, 0, 0];
    const prior = 1 / (CENTS_A_STIFFNESS * STIFFNESS_SPREAD) ** 2;
    wxx += prior * CENTS_A_STIFFNESS ** 2;
    wxy += prior * CENTS_A_STIFFNESS ** 2 * USUAL_STIFFNESS;
    partials.forEach((partial, index) => {
      const x = CENTS_A_STIFFNESS * partial.number ** 2;
      const spread = spreads[index] as number;
      const off = (partial.cents - cents - x * stiffness) / (TUNING * spread);
      const weight = 1 / (spread * spread * (1 + off * off));
      w += weight;
      wx += weight * x;
      wy += weight * partial.cents;
      wxx += weight * x * x;
      wxy += weight * x * partial.cents;
    });
    const all = w * wxx - wx * wx;
    stiffness = Math.max(0, Math.min(STIFFEST, (w * wxy - wx * wy) / all));
    cents = (wy - wx * stiffness) / w;
    unsure = Math.sqrt(wxx / all);
  }
  return { cents, stiffness, unsure };
}
