/** The controls of a chart: where each is, and what it is called. */
import { STATIONS, type Station } from '$lib/setup/setup';
import type { Choice, Doubts, Piece } from './doubts';
import type { WrittenNeck } from './reading';
import { isPedalLetter, likelyStations, readStationName, type StationName } from './stationName';

export interface FoundControl {
  readonly station: Station;
  readonly id: string;
}

const SAYS: Readonly<Record<string, string>> = {
  L: 'to the left',
  V: 'up',
  R: 'to the right',
};

/** A station as a choice: `LKL, the left knee to the left`. */
function stationChoice(station: Station): Choice {
  const knee = /^([LR])K([LVR])(2?)$/.exec(station);
  const pedal = /^P(\d+)$/.exec(station);
  const says =
    knee !== null
      ? `${station}, the ${knee[1] === 'L' ? 'left' : 'right'} knee ${SAYS[knee[2] ?? ''] ?? ''}${knee[3] === '2' ? ', second bank' : ''}`
      : pedal !== null
        ? `${station}, pedal ${pedal[1] ?? ''}`
        : station;
  return { id: station, says };
}

/** `F = LKL`, `E lever is LKR`: what a line beside the chart says of a letter. */
function legendsIn(beside: readonly Piece[]): Map<string, Station> {
  const legends = new Map<string, Station>();
  for (const { text } of beside)
    for (const part of text.split(/[,;]/u)) {
      const match =
        /^[\s(*•-]*(?:the )?(?:lever |hebel |pedal )?([A-Z])(?: lever| pedal|-?hebel)?\s*(?:=|:|->|→|\bis\b|\bist\b)\s*(?:the |der |on )?(.{2,40}?)[\s).]*$/iu.exec(
          part,
        );
      const station = match === null ? undefined : readStationName(match[2] ?? '')?.station;
      if (station !== undefined) legends.set((match?.[1] ?? '').toUpperCase(), station);
    }
  return legends;
}

/** Does a line only explain letters? */
export const isLegend = (piece: Piece): boolean => legendsIn([piece]).size > 0;

const MOST_ID = 8;

/** The same control has the same key on every neck. */
const controlKey = (
  { station, called }: StationName,
  legends = new Map<string, Station>(),
): string => station ?? legends.get(called ?? '') ?? called ?? '';

/** Every control of the necks, by its key. */
export function controlsOf(
  necks: readonly WrittenNeck[],
  beside: readonly Piece[],
  doubts: Doubts,
): { controls: Map<string, FoundControl>; keyOf: (name: StationName) => string } {
  const legends = legendsIn(beside);
  const keyOf = (name: StationName): string => controlKey(name, legends);
  const controls = new Map<string, FoundControl>();
  const taken = new Set<Station>();
  const ids = new Set<string>();
  const add = (key: string, station: Station, called: string | undefined): void => {
    const id =
      called !== undefined && called.length <= MOST_ID && !ids.has(called) ? called : station;
    controls.set(key, { station, id });
    taken.add(station);
    ids.add(id);
  };
  const written = necks.flatMap((neck) => neck.controls);
  for (const { name } of written) {
    const station = name.station ?? legends.get(name.called ?? '');
    if (station !== undefined && !controls.has(station)) add(station, station, name.called);
  }
  const open = written.filter(({ name }) => !controls.has(keyOf(name)));
  // what every player means alike comes first, so that a letter that is asked for does not take its place
  const letters = open.filter(
    ({ name }) => isPedalLetter(name.called ?? '') && name.kind !== 'lever',
  );
  const isTurned = letters.map(({ name }) => name.called).join('') === 'CBA';
  for (const { name, piece } of letters) {
    const called = name.called ?? '';
    if (controls.has(called)) continue;
    const usual: Station = called === 'A' ? 'P1' : called === 'B' ? 'P2' : 'P3';
    const mirrored: Station = called === 'A' ? 'P3' : called === 'B' ? 'P2' : 'P1';
    const turns =
      isTurned &&
      doubts.ask({
        key: 'pedals',
        piece,
        found: 'C B A',
        choices: [
          { id: 'usual', says: 'A on P1, B on P2, C on P3, in another order' },
          { id: 'turned', says: 'C on P1, B on P2, A on P3, as they stand here' },
        ],
      }) === 'turned';
    const station = turns ? mirrored : usual;
    if (!taken.has(station)) add(called, station, called);
  }
  for (const { name, piece } of open) {
    const called = name.called ?? '';
    if (controls.has(called)) continue;
    const likely = likelyStations(name, taken);
    const choices = [
      ...likely,
      ...STATIONS.filter((each) => !taken.has(each) && !likely.includes(each)),
    ].map(stationChoice);
    if (choices.length === 0) continue;
    const chosen = doubts.ask({
      key: `station:${called}`,
      piece,
      about: { control: called },
      choices,
    }) as Station;
    // another letter may have been given the place since
    const station = taken.has(chosen) ? likely[0] : chosen;
    if (station !== undefined) add(called, station, called);
  }
  return { controls, keyOf };
}
