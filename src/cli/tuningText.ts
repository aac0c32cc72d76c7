/** What `gripwright tuning` prints of a neck. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { centsText } from '$lib/tuning/centsText';
import { givenText, splitNote, splitText } from '$lib/tuning/stopText';
import type { Tuning } from '$lib/tuning/tune';
import { print, table } from './out';
import type { TuningMethods } from './tuningJson';

/** What keeping octaves together costs; nothing where it costs nothing. */
function apartText({ residualAfter, residualApart }: Tuning): string {
  return residualApart === undefined || residualAfter - residualApart < 0.005
    ? ''
    : ` Were octaves of open strings and of one control let come apart, ${residualApart.toFixed(2)} instead of ${residualAfter.toFixed(2)}.`;
}

/** Chords that are shown; the rest is in the JSON. */
const SHOWN_USES = 16;

/** Prints one neck: what every stop is set to, the splits without a stop, and what becomes of the chords. */
export function printTuning(
  setup: Setup,
  made: Tuning,
  other: Tuning | undefined,
  { method, against }: TuningMethods,
): void {
  const neck = setup.necks[made.neck - 1];
  const note = (midi: number): string => prettyPitch(tuningPitch(neck, midi));
  const anchor = `string ${made.anchor} stays at equal temperament`;
  print(
    `\n${setup.necks.length > 1 ? `${neck?.name ?? ''}: ` : ''}${method === 'equal' || method === 'saved' ? '' : anchor}`.trimEnd(),
  );
  const columns = against === undefined ? [] : [`${against}: cents`, 'difference'];
  const undecided = made.targets.some(({ given }) => given !== undefined);
  const unstopped = made.splits.filter(({ ownStop }) => !ownStop);
  print('');
  print(
    table(
      ['control', 'string', 'note', 'cents', 'hertz', ...columns, ...(undecided ? [''] : [])],
      [
        ...made.targets.map((target, index) => {
          const { control, state, string, midi, cents, hz, raisedBy, given } = target;
          const beside = other?.targets[index]?.cents;
          return [
            control === null
              ? 'open'
              : `${raisedBy === undefined ? '' : `${raisedBy}+`}${control}${state === 'half' ? '½' : ''}`,
            String(string),
            note(midi),
            centsText(cents),
            hz.toFixed(2),
            ...(beside === undefined ? [] : [centsText(beside), centsText(cents - beside)]),
            ...(given === undefined ? [] : [`undecided: ${givenText(given)}`]),
          ];
        }),
        ...unstopped.map(({ engaged, string, midi, cents, hz }) => [
          engagedText(engaged),
          String(string),
          note(midi),
          centsText(cents),
          hz.toFixed(2),
        ]),
      ],
      against === undefined ? [1, 3, 4] : [1, 3, 4, 5, 6],
    ),
  );
  if (undecided)
    print('\nUndecided: no chord says where these lie. Set them otherwise as you like.');
  if (unstopped.length > 0) print(`\n${splitNote(setup)}`);
  for (const split of unstopped) print(splitText(setup, split));
  if (made.uses.length === 0) return;
  print(
    `\nChords lie ${made.residualBefore.toFixed(1)} cents from just intonation in equal temperament, ${made.residualAfter.toFixed(1)} so (root mean square).${apartText(made)}\n`,
  );
  print(
    table(
      [
        'chord',
        'fret',
        'controls',
        'strings',
        'off before',
        'off now',
        'beats before',
        'beats now',
        '',
      ],
      made.uses
        .slice(0, SHOWN_USES)
        .map(({ use, before, after, impure }) => [
          prettySymbol(use.symbol),
          String(use.fret),
          engagedText(use.engaged) || '–',
          use.strings.join('-'),
          before.residual.toFixed(1),
          after.residual.toFixed(1),
          `${before.beatsHz.toFixed(1)}/s`,
          `${after.beatsHz.toFixed(1)}/s`,
          impure ? 'contradicts a chord before it' : '',
        ]),
      [1, 4, 5, 6, 7],
    ),
  );
  if (made.uses.length > SHOWN_USES)
    print(`\n${SHOWN_USES} of ${made.uses.length} voicings shown; --json has them all.`);
  if (made.unplayable.length > 0)
    print(
      `\nThis neck cannot play ${made.unplayable.map((each) => prettySymbol(each)).join(', ')}.`,
    );
}
