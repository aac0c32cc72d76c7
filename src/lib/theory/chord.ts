/**
 * A chord that is asked for: its tones, and what each of them is there for.
 */
import { degreeChroma, inDegreeOrder, toneName } from './degrees';
import { bassDegree, isMust, roleOf, type ToneRole } from './duties';
import type { Degree } from './kinds';
import { pcSetOf, type PcSet } from './pcset';
import { chromaOf, chromaOfName, nameText, type Chroma, type NoteName } from './pitch';
import { typeWithDegrees } from './chordTypes';
import { rootedName, type RootedName } from './rootedNames';

export interface ChordTone {
  /** `b3`, `#11`; for a bass that is no chord tone its nearest degree. */
  readonly degree: string;
  readonly chroma: Chroma;
  /** Spelled by its degree from the root, without a double accidental. */
  readonly name: NoteName;
  readonly role: ToneRole;
  /** The chord is not itself without this tone. */
  readonly must: boolean;
}

export interface Chord {
  /** Canonical, in plain letters: `C#m7`, `C/E`. */
  readonly symbol: string;
  readonly root: NoteName;
  /** The note after a slash, which has to be lowest. */
  readonly bass?: NoteName;
  /** Canonical suffix. */
  readonly type: string;
  /** In degree order; a bass that is no chord tone comes last. */
  readonly tones: readonly ChordTone[];
  readonly pitchClasses: PcSet;
  /** MusicXML 4.0; a bass that is no chord tone is not in it (the `bass` element says that). */
  readonly kind: string;
  readonly degrees: readonly Degree[];
  /**
   * Degrees of which any one of a group, or several, are enough: the fifths and the ninths of an altered
   * chord. All of them stand among the tones.
   */
  readonly eitherOf?: readonly (readonly string[])[];
}

/** One tone a pitch class: of two degrees that sound the same (b3 and #9) the lower number stays. */
function withoutDoubles(degrees: readonly string[]): string[] {
  const seen = new Set<Chroma>();
  return inDegreeOrder(degrees).filter((degree) => {
    const chroma = degreeChroma(degree);
    if (seen.has(chroma)) return false;
    seen.add(chroma);
    return true;
  });
}

/** The canonical suffix of a set of degrees, and the degrees and kind as that suffix means them. */
function canonical(
  degrees: readonly string[],
): Pick<RootedName, 'suffix' | 'degrees' | 'kind' | 'kindDegrees'> {
  const type = typeWithDegrees(degrees);
  if (type) return type;
  const rooted = rootedName(pcSetOf(degrees.map(degreeChroma)), 0);
  return typeWithDegrees(rooted.degrees) ?? rooted;
}

/** Puts a chord together from a root, degrees and a bass. Degrees may be in any order. */
export const chordOf = (root: NoteName, degrees: readonly string[], bass?: NoteName): Chord =>
  chordNamed(root, canonical(withoutDoubles(degrees)), bass);

/** Puts a chord together whose type has a suffix and degrees, in order, already. */
export function chordNamed(
  root: NoteName,
  { suffix, degrees: all, kind, kindDegrees }: ReturnType<typeof canonical>,
  bass?: NoteName,
): Chord {
  const rootChroma = chromaOfName(root);
  const bassChroma = bass && chromaOfName(bass);
  const tones: ChordTone[] = all.map((degree) => {
    const chroma = chromaOf(rootChroma + degreeChroma(degree));
    const name = toneName(root, degree);
    const must = chroma === bassChroma || isMust(degree, all);
    return { degree, chroma, name, role: roleOf(degree), must };
  });
  let written = bass;
  if (bass && bassChroma !== undefined) {
    const own = tones.find((tone) => tone.chroma === bassChroma);
    if (own) {
      written = own.name;
    } else {
      const degree = bassDegree(chromaOf(bassChroma - rootChroma));
      tones.push({ degree, chroma: bassChroma, name: bass, role: 'bass', must: true });
    }
  }
  return {
    symbol: nameText(root) + suffix + (written ? `/${nameText(written)}` : ''),
    root,
    ...(written ? { bass: written } : {}),
    type: suffix,
    tones,
    pitchClasses: pcSetOf(tones.map((tone) => tone.chroma)),
    kind,
    degrees: kindDegrees,
  };
}
