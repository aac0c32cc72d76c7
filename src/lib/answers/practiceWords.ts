/** What a card asks, and how an answer was, in sentences. */
import { prettyName, prettyPitch, prettySymbol, typeName } from '$lib/theory/display';
import { spelled, toneAt } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { spelledBy } from '$lib/setup/spelledBy';
import { pitchesOf, type Hold } from '$lib/search/hold';
import type { Wrong } from '$lib/practice/judge';
import type { Task } from '$lib/practice/task';
import { fretText } from './voicingText';

/** `fret 3, A+B, strings 3-4-5`, with the neck where there are several. */
export function holdWords(setup: Setup, hold: Hold): string {
  const controls = engagedText(hold.engaged);
  const neck = setup.necks.length > 1 ? [setup.necks[hold.neck - 1]?.name ?? ''] : [];
  const bar = hold.fret === 0 ? 'open' : `fret ${fretText(hold)}`;
  return [
    ...neck,
    bar,
    ...(controls === '' ? [] : [controls]),
    `strings ${hold.strings.join('-')}`,
  ].join(', ');
}

/** `frets 1 to 5` */
const fretsWords = ([lowest, highest]: readonly [number, number]): string =>
  `between fret ${lowest} and fret ${highest}`;

/** What the card asks, in one sentence. */
export function askedWords(setup: Setup, task: Task): string {
  const chord = prettySymbol(task.chord.symbol);
  const on = setup.necks.length > 1 ? ` on ${neckOf(setup, task)}` : '';
  switch (task.kind) {
    case 'find': {
      const top = toneAt(task.chord.tones, task.top)?.name;
      const topped = top === undefined ? '' : ` with ${prettyName(top)} on top`;
      return `Find ${chord}${topped}${on}, ${fretsWords(task.frets)}.`;
    }
    case 'move':
      return `From ${prettySymbol(task.fromChord.symbol)} move to ${chord}${on}, ${fretsWords(task.frets)}.`;
    case 'name':
      return 'Which chord is this?';
    case 'hear':
      return {
        type: 'Which type of chord do you hear?',
        interval: 'How far apart are the two strings?',
        pull: 'Which pedal or lever do you hear?',
      }[task.of];
    case 'tune':
      return `Play ${chord} with every string within ${task.cents} cents.`;
  }
}

/** How the card is answered by playing, in one sentence. */
export function playedWords(setup: Setup, task: Task): string {
  switch (task.kind) {
    case 'find':
    case 'move':
    case 'tune':
      return 'Play it to the microphone.';
    case 'name':
      return 'Strike any string as often as the number of the answer says.';
    case 'hear': {
      const [first] = task.plays;
      if (first === undefined) return '';
      if (task.of === 'pull') return `Press what you heard, and play ${holdWords(setup, first)}.`;
      if (task.of === 'type') {
        const bare = { ...first, engaged: [] };
        return `Play it back, with whatever it takes: ${holdWords(setup, bare)}.`;
      }
      const low = Math.min(...pitchesOf(setup, first));
      const note = spelled(task.chord.tones, low, spelledBy(setup.necks[first.neck - 1]));
      return `Play both back; the lower one is ${prettyPitch(note)}.`;
    }
  }
}

const neckOf = (setup: Setup, task: Task): string => {
  const hold = 'hold' in task ? task.hold : task.plays[0];
  return setup.necks[(hold?.neck ?? 1) - 1]?.name ?? '';
};

/** The answers that can be chosen, as they are read. */
export function choiceTexts(task: Task): readonly string[] {
  if (task.kind === 'name') return task.choices.map(({ symbol }) => prettySymbol(symbol));
  if (task.kind !== 'hear') return [];
  if (task.of === 'pull') return task.choices.map((each) => engagedText([each]));
  return task.of === 'type' ? task.choices.map((type) => typeName(type)) : task.choices;
}

/** What would have been right, in words. */
export function rightWords(setup: Setup, task: Task): string {
  const chord = prettySymbol(task.chord.symbol);
  const choice = choiceTexts(task);
  if (task.kind === 'name') return `${chord}.`;
  if (task.kind === 'hear') {
    const last = task.plays.at(-1);
    const where = last === undefined ? '' : `: ${holdWords(setup, last)}`;
    return `${choice[task.right] ?? ''}${where}.`;
  }
  return `${chord}: ${holdWords(setup, task.hold)}.`;
}

/** Why what was laid down is not what is asked. */
export function wrongWords(task: Task, wrong: Wrong, sounds: string | undefined): string {
  const chord = prettySymbol(task.chord.symbol);
  switch (wrong) {
    case 'nothing':
      return 'No string is picked yet.';
    case 'unreachable':
      return 'These pedals and levers cannot be engaged together, or the bar does not lie on the neck.';
    case 'chord':
      return sounds === undefined
        ? `That is not ${chord}.`
        : `That is ${prettySymbol(sounds)}, not ${chord}.`;
    case 'top': {
      const top = task.kind === 'find' ? toneAt(task.chord.tones, task.top)?.name : undefined;
      return `That is ${chord}, but ${top === undefined ? 'another note' : prettyName(top)} has to be on top.`;
    }
    case 'region':
      return `That is ${chord}, but the bar has to lie ${'frets' in task ? fretsWords(task.frets) : 'elsewhere'}.`;
  }
}
