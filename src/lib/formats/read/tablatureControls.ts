/** The controls that tablature names: behind a fret, in a list, or in a line of their own above the strings. */
import { usualStations } from './chart/stationName';
import type { Doubts, Piece } from './chart/doubts';
import { hasHalf, type Control, type Engaged, type Setup } from '$lib/setup/setup';

/** A letter that the setup does not use, for the control where players usually have that letter. */
function byUsualLetter(
  setup: Setup,
  text: string,
): { readonly name: string; readonly control: Control } | undefined {
  const name = /^[A-Z](?!\p{Ll})/u.exec(text)?.[0];
  if (name === undefined) return undefined;
  const stations = usualStations(name);
  const control = setup.controls.find(({ station }) => stations.includes(station));
  return control && { name, control };
}

/** The controls that letters behind a fret name: `A`, `AB`, `A,RKR`, `(F)`; `½` or `/2` is half. */
export function engagedIn(setup: Setup, piece: Piece, doubts: Doubts): Engaged[] {
  const engaged: Engaged[] = [];
  const names = setup.controls
    .flatMap((control) => [
      { name: control.id, control },
      { name: control.station, control },
    ])
    .sort((a, b) => b.name.length - a.name.length);
  let rest = piece.text;
  while (rest !== '') {
    const skipped = /^[\s,+()&.~'-]+/u.exec(rest)?.[0].length ?? 0;
    rest = rest.slice(skipped);
    if (rest === '') break;
    const own = names.find(({ name }) => rest.toUpperCase().startsWith(name.toUpperCase()));
    const found = own ?? byUsualLetter(setup, rest);
    if (own === undefined && found !== undefined)
      doubts.tell({
        key: `letter:${found.name}`,
        piece,
        found: found.name,
        read: `${found.control.id}, which players usually call so, here and elsewhere`,
      });
    const open = /^(?:open|none|offen|leer|no controls?)(?!\p{L})/iu.exec(rest)?.[0].length ?? 0;
    if (open > 0) {
      rest = rest.slice(open);
      continue;
    }
    if (found === undefined) {
      const unknown = /^\p{L}+\d*|^./u.exec(rest)?.[0] ?? rest;
      doubts.tell({
        key: `control:${piece.at}:${unknown}`,
        piece,
        found: unknown,
        read: 'nothing: the setup has no such control',
      });
      rest = rest.slice(unknown.length);
      continue;
    }
    rest = rest.slice(found.name.length);
    const half = /^(?:½|\/2|:half|h(?![a-z]))/u.exec(rest)?.[0].length ?? 0;
    rest = rest.slice(half);
    const state = half > 0 && hasHalf(found.control) ? 'half' : 'full';
    if (!engaged.some(({ id }) => id === found.control.id))
      engaged.push({ id: found.control.id, state });
  }
  return engaged;
}

/** What stands over a column of a stave. */
export interface Over {
  readonly column: number;
  readonly piece: Piece;
}

/** The words of a line in which nothing but controls stand; `undefined` where something else does. */
export function controlsLine(setup: Setup, line: Piece): Over[] | undefined {
  const names = setup.controls.flatMap(({ id, station }) => [id, station]);
  const isName = (word: string): boolean => {
    const plain = word.replace(/½|\/2$/u, '').toUpperCase();
    return names.some((name) => name.toUpperCase() === plain) || /^[A-C]{2,3}$/u.test(plain);
  };
  const words = [...line.text.matchAll(/[^\s|]+/gu)];
  const isControls =
    words.length > 0 &&
    words.every(([word]) =>
      word.split(/[+,&/](?!2)/u).every((part) => part !== '' && isName(part)),
    );
  return isControls
    ? words.map((match) => ({
        column: match.index,
        piece: { text: match[0], at: line.at + match.index },
      }))
    : undefined;
}
