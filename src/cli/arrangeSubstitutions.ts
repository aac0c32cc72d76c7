/** `gripwright arrange --substitutions`: chords that may stand for others, and what each saves or costs. */
import type { Piece } from '$lib/arrange/piece';
import { substitutionsIn, substitutionsSaid } from '$lib/arrange/substituting';
import type { Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';
import { prettySymbol } from '$lib/theory/display';
import { RULE_WORDS, SUBSTITUTION_RULES } from '$lib/theory/substitutions';
import { print, printJson, table } from './out';

/** Weighs and prints all of them, what saves most first. */
export function runSubstitutions(setup: Setup, piece: Piece, wishes: Wishes, json: boolean): void {
  const found = substitutionsIn(setup, piece, wishes);
  const said = substitutionsSaid(piece, wishes.textures);
  if (json) {
    printJson({
      substitutions: found.map(
        ({ measure, change, rule, instead, chord, part, before, after }) => ({
          bar: measure + 1,
          chord: change + 1,
          ...{ rule, instead: instead.symbol, symbol: chord.symbol, part, before, after },
          saves: Math.round((before - after) * 1000) / 1000,
        }),
      ),
      ...(said === undefined ? {} : { said }),
    });
    return;
  }
  if (said !== undefined) print(`${said}\n`);
  if (found.length === 0) {
    if (said === undefined) print('No rule gives another chord here that this setup can play.');
    return;
  }
  const rows = found.map(({ measure, instead, chord, part, rule, before, after }) => [
    String(measure + 1),
    prettySymbol(instead.symbol),
    `${part === 'whole' ? '' : 'then '}${prettySymbol(chord.symbol)}`,
    rule,
    before.toFixed(2),
    after.toFixed(2),
    (before - after).toFixed(2),
  ]);
  print(
    table(['measure', 'chord', 'instead', 'rule', 'before', 'after', 'saves'], rows, [0, 4, 5, 6]),
  );
  for (const rule of SUBSTITUTION_RULES)
    if (found.some((each) => each.rule === rule)) print(`${rule}: ${RULE_WORDS[rule]}`);
}
