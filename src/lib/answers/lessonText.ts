/** What a control is for, in words: what it does to its strings, and where that leads. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { numeralOf } from '$lib/theory/numeral';
import { chromaOf } from '$lib/theory/pitch';
import { engagedText } from '$lib/setup/engagedText';
import { hasHalf, pullIn, type ControlState } from '$lib/setup/setup';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, type Lesson } from '$lib/coverage/lesson';

/** Degrees above the open chord's root, as a player counts them. */
const DEGREES = ['1', '♭2', '2', '♭3', '3', '4', '♭5', '5', '♭6', '6', '♭7', '7'] as const;

const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1) ?? ''}`;

/** Chords that the second sentence names: more is a list, and the list stands below. */
const NAMED = 3;

/** `Over the open E string 2 goes from 7 to ♭7 (half-stop) and 6, …`, and the chords that this leads to. */
export function useText(lesson: Lesson, fret: number): string {
  const { setup, id, by, tonics, short } = lesson;
  const control = setup.controls.find((each) => each.id === id);
  if (control === undefined) return '';
  const sentences = setup.necks.flatMap((neck, index) => {
    const tonic = tonics[index] ?? 0;
    const pulls = control.pulls.filter((pull) => pull.neck === index + 1);
    if (pulls.length === 0) return [];
    const degree = (string: number, semitones: number): string =>
      DEGREES[chromaOf((neck.strings[string - 1]?.open.midi ?? 0) + semitones - tonic)] ?? '';
    const ways = new Map<string, number[]>();
    for (const pull of pulls) {
      const half = hasHalf(control) ? pullIn(pull, 'half') : 0;
      const way = `from ${degree(pull.string, 0)} to ${
        half === 0 ? '' : `${degree(pull.string, half)} (half-stop) and `
      }${degree(pull.string, pull.semitones)}`;
      ways.set(way, [...(ways.get(way) ?? []), pull.string]);
    }
    const told = [...ways].map(
      ([way, strings]) =>
        `${strings.length === 1 ? 'string' : 'strings'} ${listed(strings.map(String))} ${way}`,
    );
    const open = prettyName(keyAt(lesson, index + 1, fret).tonic);
    const where = setup.necks.length > 1 ? `On the ${neck.name} neck, over` : 'Over';
    return [`${where} the open ${open}, ${id} takes ${listed(told)}.`];
  });
  const chord = (chordNumber: number, neck: number): string => {
    const key = keyAt(lesson, neck, fret);
    const { root, type, symbol } = chordInKey(by, chordNumber, fret, key);
    return `${prettySymbol(symbol)} (${numeralOf({ root, type }, key).text})`;
  };
  const become = (state: ControlState): string[] => {
    const symbol = (chordNumber: number, neck: number): string =>
      prettySymbol(chordInKey(by, chordNumber, fret, keyAt(lesson, neck, fret)).symbol);
    return short.moves
      .slice(0, NAMED)
      .filter(({ pressed }) => pressed.state === state)
      .map(({ held, was, is, neck }) => {
        const beside = held.length === 0 ? '' : `with ${engagedText(held)} `;
        return `${beside}${symbol(was, neck)} becomes ${chord(is, neck)}`;
      });
  };
  const [half, full] = [become('half'), become('full')];
  const alone = [
    ...(half.length === 0 ? [] : [`at its half-stop ${listed(half)}`]),
    ...(full.length === 0 ? [] : [`${hasHalf(control) ? 'all the way ' : ''}${listed(full)}`]),
  ].join('; ');
  const beside = short.positions
    .slice(0, NAMED)
    .map(
      ({ chordNumber, use }) =>
        `with ${engagedText(use.held)} it gives ${chord(chordNumber, use.neck)}`,
    );
  return [
    ...sentences,
    ...(alone === '' ? [] : [`With the bar still, ${alone}.`]),
    ...(beside.length === 0 ? [] : [`${capital(listed(beside))}.`]),
  ].join(' ');
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
