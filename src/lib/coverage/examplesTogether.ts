/** What one would play first with several new controls: chords that take more than one of them before all others. */
import type { Control, Setup } from '$lib/setup/setup';
import { examplesWith, type Example } from './examples';
import { useGround } from './uses';
import type { Yardstick } from './yardstick';

const EXAMPLES = 3;
/** So that what a control gives by itself is shown too. */
const MOST_JOINT = 2;

/** Tells chords of a neck apart. */
const chordOf = ({ neck, to }: Example): string => `${neck} ${to.type} ${to.root}`;

/**
 * Three at most, each of another chord: chords that could not be played before come first, up to two that take several
 * of the controls, then what each gives by itself.
 *
 * @param after the setup with the controls
 * @param isNew could this chord not be played before?
 */
export function examplesTogether(
  after: Setup,
  controls: readonly Pick<Control, 'id' | 'pulls'>[],
  by: Yardstick,
  isNew: (type: string, root: number) => boolean,
): Example[] {
  const ids = controls.map(({ id }) => id);
  const grounds = controls.map(({ id, pulls }) => ({ ground: useGround(after, id, by), pulls }));
  const isFresh = ({ to }: Example): boolean => isNew(to.type, to.root);
  // what sounds as if nothing were engaged takes no control at all
  const isOpen = ({ neck, strings, toPitches }: Example): boolean =>
    strings.every(
      (string, at) => toPitches[at] === grounds[0]?.ground.open[neck - 1]?.[string - 1],
    );
  const joint = grounds
    .flatMap(({ ground, pulls }) =>
      examplesWith(
        {
          ...ground,
          helds: ground.helds.filter(({ held }) => held.some(({ id }) => ids.includes(id))),
        },
        pulls,
      ),
    )
    .filter((each) => !isOpen(each));
  // one of each control in turn
  const alone = grounds.map(({ ground, pulls }) =>
    examplesWith(ground, pulls).filter((each) => !isOpen(each)),
  );
  const inTurn = Array.from({ length: EXAMPLES }, (_, at) =>
    alone.flatMap((each) => each[at] ?? []),
  ).flat();
  const told: Example[] = [];
  const tell = (all: readonly Example[], most: number): void => {
    for (const each of all)
      if (told.length < most && !told.some((other) => chordOf(other) === chordOf(each)))
        told.push(each);
  };
  tell(joint.filter(isFresh), MOST_JOINT);
  tell(inTurn.filter(isFresh), EXAMPLES);
  tell(inTurn, EXAMPLES);
  tell(joint, EXAMPLES);
  return told;
}
