/**
 * What a sound can be called: every root is tried, the best name first. The work was done when the
 * table of rooted names was made, so that thousands of sounds can be named while a page scrolls.
 */
import { degreeChroma, degreeName, toneName } from './degrees';
import { bassDegree, roleOf, type ToneRole } from './duties';
import type { Degree } from './kinds';
import { NAME_WEIGHTS } from './nameWeights';
import { has, pcSetOf, sizeOf, transpose, type PcSet } from './pcset';
import { chromaOf, nameText, type Chroma, type NoteName } from './pitch';
import { costOfName, rootedName } from './rootedNames';
import { commonRoot, nameInKey, rootInKey, type Key } from './spelling';

export interface NamedTone {
  readonly degree: string;
  readonly chroma: Chroma;
  readonly name: NoteName;
  readonly role: ToneRole;
}

export interface ChordName {
  /**
   * In plain letters: `Am7/C`, `C(no5)`; `readChord` reads it back to the same pitch classes, and to
   * the same bass but where a partial chord with extensions is told without: `G13(no5,no9)` over F.
   */
  readonly symbol: string;
  readonly root: NoteName;
  readonly bass: NoteName;
  /** Canonical suffix, with what is added and left out in brackets. */
  readonly type: string;
  /** MusicXML 4.0; a bass that is no chord tone is not in it. */
  readonly kind: string;
  readonly degrees: readonly Degree[];
  /** Degrees of the chord that do not sound (`1` where the root does not). */
  readonly missing: readonly string[];
  /** Degrees that sound and are not the chord's. */
  readonly added: readonly string[];
  /** Every sounding pitch class once, in degree order; a foreign bass last. */
  readonly tones: readonly NamedTone[];
}

export interface NamingOptions {
  readonly key?: Key;
  /** The root of the chord on which the instrument lies, where there is one. */
  readonly home?: Chroma;
  /** The root of the sixth chord on which it lies, where its tuning is called by that: C of a C6 neck. */
  readonly sixth?: Chroma;
  /** How many names at most; all (one a root at most) where left out. */
  readonly limit?: number;
}

const SIXTH = pcSetOf([0, 4, 7, 9]);

/** A bass outside of the chord is read alone, so a plain natural goes before B sharp or F flat. */
function foreignName(root: NoteName, degree: string, bass: Chroma): NoteName {
  const common = commonRoot(bass, '');
  const byDegree = degreeName(root, degree);
  return common.alter === 0 || Math.abs(byDegree.alter) > 1 ? common : byDegree;
}

function nameFrom(rootChroma: Chroma, set: PcSet, bass: Chroma, key: Key | undefined): ChordName {
  const entry = rootedName(transpose(set, -rootChroma), chromaOf(bass - rootChroma));
  const root = key
    ? rootInKey(rootChroma, entry.type.suffix, key)
    : commonRoot(rootChroma, entry.type.suffix);
  const tones: NamedTone[] = entry.degrees.map((degree) => ({
    degree,
    chroma: chromaOf(rootChroma + degreeChroma(degree)),
    name: toneName(root, degree),
    role: roleOf(degree),
  }));
  const added = [...entry.added];
  if (entry.foreignBass) {
    const degree = bassDegree(chromaOf(bass - rootChroma));
    const name = key ? nameInKey(bass, key) : foreignName(root, degree, bass);
    tones.push({ degree, chroma: bass, name, role: 'bass' });
    added.push(degree);
  }
  const bassName = tones.find((tone) => tone.chroma === bass)?.name ?? root;
  const slash = rootChroma === bass || entry.hidesBass ? '' : `/${nameText(bassName)}`;
  return {
    symbol: nameText(root) + entry.suffix + slash,
    root,
    bass: bassName,
    type: entry.suffix,
    kind: entry.kind,
    degrees: entry.kindDegrees,
    missing: entry.missing,
    added,
    tones,
  };
}

/**
 * Names of a set of two or more pitch classes over a bass that is in it, best first: by the weights of
 * `nameWeights`, of equals the root that lies least above the bass. Throws on a
 * smaller set and on a bass outside of it.
 */
export function namesOf(set: PcSet, bass: Chroma, options: NamingOptions = {}): ChordName[] {
  if (sizeOf(set) < 2 || !has(set, bass)) {
    throw new Error(`Two pitch classes and a bass among them are needed, not ${String(set)}.`);
  }
  const { home, sixth, key, limit = 12 } = options;
  const costs: number[] = [];
  let best = bass;
  let least = Infinity;
  // upwards from the bass, so that of equals the nearest root stays first
  for (let above = 0; above < 12; above++) {
    const root = (bass + above) % 12;
    const over = transpose(set, 12 - root);
    const isHome = root === sixth && over === SIXTH;
    const cost =
      costOfName(over, (12 - above) % 12, root === home) - (isHome ? NAME_WEIGHTS.sixthAtHome : 0);
    costs.push(cost);
    if (cost >= least) continue;
    least = cost;
    best = root;
  }
  if (limit === 1) return [nameFrom(best, set, bass, key)];
  const costOf = (root: Chroma): number => costs[chromaOf(root - bass)] as number;
  return costs
    .map((_, above) => chromaOf(bass + above))
    .filter((root) => costOf(root) < Infinity)
    .sort((a, b) => costOf(a) - costOf(b))
    .slice(0, limit)
    .map((root) => nameFrom(root, set, bass, key));
}
