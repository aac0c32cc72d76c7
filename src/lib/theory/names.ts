/**
 * What a sound can be called: every root is tried, the best name first. The work was done when the
 * table of rooted names was made, so that thousands of sounds can be named while a page scrolls.
 */
import { degreeChroma, degreeName } from './degrees';
import { bassDegree, roleOf, type ToneRole } from './duties';
import type { Degree } from './kinds';
import { has, sizeOf, transpose, type PcSet } from './pcset';
import { chromaOf, nameText, type Chroma, type NoteName } from './pitch';
import { rootedName, rootedNameInBass, type RootedName } from './rootedNames';
import { commonRoot, nameInKey, type Key } from './spelling';

export interface NamedTone {
  readonly degree: string;
  readonly chroma: Chroma;
  readonly name: NoteName;
  readonly role: ToneRole;
}

export interface ChordName {
  /** In plain letters: `Am7/C`, `C(no5)`; `readChord` reads it back to the same sound. */
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
  /** How many names at most; all (one a root at most) where left out. */
  readonly limit?: number;
}

/** One way to see a sound from a root: the chord, and whether the bass stands outside of it. */
interface View {
  readonly entry: RootedName;
  readonly root: Chroma;
  readonly foreignBass: boolean;
  /** Lower is better; all criteria in one number, see `weigh`. */
  readonly weight: number;
}

/**
 * The order: fewer left out or added tones, then names whose root sounds, then the root in the
 * bass, then names that keep the third and what else a chord needs, then commonness, then the root
 * that lies least above the bass.
 */
function weigh(entry: RootedName, cost: number, aboveBass: number): number {
  let weight = cost;
  weight = weight * 2 + (entry.rootSounds ? 0 : 1);
  weight = weight * 2 + (aboveBass === 0 ? 0 : 1);
  weight = weight * 16 + entry.lost;
  weight = weight * 256 + entry.type.rank;
  return weight * 12 + aboveBass;
}

function viewFrom(set: PcSet, bass: Chroma, root: Chroma): View {
  const aboveBass = chromaOf(root - bass);
  const relative = transpose(set, -root);
  const bassAbove = chromaOf(bass - root);
  const whole = aboveBass === 0 ? rootedNameInBass(relative) : rootedName(relative);
  const isAdded = !has(whole.type.set, bassAbove);
  // A bass that is no tone of the chord is told by the slash alone: C/F#, not C(add#11)/F#.
  if (isAdded && bassAbove !== 0 && sizeOf(set) > 2) {
    const entry = rootedName(relative & ~(1 << bassAbove));
    return { entry, root, foreignBass: true, weight: weigh(entry, entry.cost + 1, aboveBass) };
  }
  return { entry: whole, root, foreignBass: false, weight: weigh(whole, whole.cost, aboveBass) };
}

/** A bass outside of the chord is read alone, so a plain natural goes before B sharp or F flat. */
function foreignName(root: NoteName, degree: string, bass: Chroma): NoteName {
  const common = commonRoot(bass, '');
  const byDegree = degreeName(root, degree);
  return common.alter === 0 || Math.abs(byDegree.alter) > 1 ? common : byDegree;
}

function nameOf(view: View, bass: Chroma, key: Key | undefined): ChordName {
  const { entry, root: rootChroma, foreignBass } = view;
  const root = key ? nameInKey(rootChroma, key) : commonRoot(rootChroma, entry.type.suffix);
  const tones: NamedTone[] = entry.degrees.map((degree) => ({
    degree,
    chroma: chromaOf(rootChroma + degreeChroma(degree)),
    name: degreeName(root, degree),
    role: roleOf(degree),
  }));
  const added = [...entry.added];
  if (foreignBass) {
    const degree = bassDegree(chromaOf(bass - rootChroma));
    const name = key ? nameInKey(bass, key) : foreignName(root, degree, bass);
    tones.push({ degree, chroma: bass, name, role: 'bass' });
    added.push(degree);
  }
  const bassName = tones.find((tone) => tone.chroma === bass)?.name ?? root;
  const slash = rootChroma === bass ? '' : `/${nameText(bassName)}`;
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
 * A root that does not sound is only offered where the rest says the chord: three tones or more,
 * none of them foreign, and none lacking that the chord needs.
 */
const speaksWithoutRoot = (entry: RootedName): boolean =>
  entry.degrees.length >= 3 && entry.added.length === 0 && entry.lost === 0;

/**
 * Names of a set of two or more pitch classes over a bass that is in it, best first. Throws on a
 * smaller set and on a bass outside of it.
 */
export function namesOf(set: PcSet, bass: Chroma, options: NamingOptions = {}): ChordName[] {
  if (sizeOf(set) < 2 || !has(set, bass)) {
    throw new Error(`Two pitch classes and a bass among them are needed, not ${String(set)}.`);
  }
  const views: View[] = [];
  for (let root = 0; root < 12; root++) {
    const view = viewFrom(set, bass, root);
    if (has(set, root) || speaksWithoutRoot(view.entry)) views.push(view);
  }
  views.sort((a, b) => a.weight - b.weight);
  return views.slice(0, options.limit ?? 12).map((view) => nameOf(view, bass, options.key));
}
