/** What there is besides the best arrangement: others that are told by what they are. */
import type { Setup } from '$lib/setup/setup';
import { arrange, readyFor, type ArrangedWay } from './arrange';
import { CHARACTERS, placeText, samePlaces, wayOfCharacter, type Character } from './characters';
import { differenceWords } from './fold';
import { Nearby } from './nearby';
import type { Progression } from './progression';
import { wayOf } from './readWay';
import type { Wishes } from './wishes';

export interface Alternative {
  readonly character: Character;
  readonly way: ArrangedWay;
  /** What it has otherwise than the arrangement before it in the list, the best one standing before all. */
  readonly differs: string;
  /** The part of its places that are others than in the best one, 0 to 1. */
  readonly apart: number;
}

export interface Alternatives {
  /** Characters that the best arrangement has already. */
  readonly best: readonly Character[];
  readonly others: readonly Alternative[];
}

const placesIn = ({ steps }: ArrangedWay): string[] => steps.map(({ hold }) => placeText(hold));

/**
 * Arrangements of a character each, those that are not among those before them; none where wishes bind the
 * whole way together (a pocket, an end where it began), for then the player has said what it is to be.
 *
 * @param best the best arrangement under these wishes
 */
export function alternatives(
  setup: Setup,
  progression: Progression,
  wishes: Wishes,
  best: ArrangedWay,
): Alternatives {
  if (wishes.pocket !== undefined || wishes.endAsBegun) return { best: [], others: [] };
  const ready = readyFor(setup, progression, wishes);
  const question = { ...ready.question, most: 1 };
  const nearby = new Nearby(question);
  const places = placesIn(best);
  const same: Character[] = [];
  const others: Alternative[] = [];
  const add = (character: Character, way: ArrangedWay): void => {
    if (way.steps.length !== best.steps.length) return;
    const text = heldText(way);
    if (text === heldText(best)) same.push(character);
    if (text === heldText(best) || others.some((other) => heldText(other.way) === text)) return;
    const apart = 1 - samePlaces(placesIn(way), places) / places.length;
    others.push({
      character,
      way,
      differs: differenceWords(others.at(-1)?.way ?? best, way),
      apart,
    });
  };
  for (const character of CHARACTERS)
    if (character === 'two strings only') {
      const [way] = arrange(setup, progression, { ...wishes, sizes: [2, 2] }, 1).ways;
      if (way !== undefined) add(character, way);
    } else {
      const way = wayOfCharacter(question, nearby, character, [places]);
      if (way !== undefined) add(character, wayOf(ready, way));
    }
  return { best: same, others };
}

/** All of it, grips too. */
const heldText = (way: ArrangedWay): string =>
  way.steps.map(({ hold }) => `${placeText(hold)}/${hold.strings.join('-')}`).join(' ');
