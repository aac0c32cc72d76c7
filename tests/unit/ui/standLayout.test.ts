import { describe, expect, it } from 'vitest';
import type { Station } from '$lib/setup/setup';
import { moved, placesOf, placesPerRow } from '$lib/ui/stand/standLayout';
import type { StandControl } from '$lib/ui/table/tableView';

const control = (station: Station, state: StandControl['state'] = 'off'): StandControl => ({
  id: station,
  station,
  state,
  hasHalf: false,
  pullsHere: true,
  spoken: station,
  reachable: true,
});

const placed = (...stations: Station[]) => placesOf(stations.map((station) => control(station)));

describe('places on the stand', () => {
  it('leave gaps for pedals that are missing in between, and none outside', () => {
    const { pedals } = placed('P6', 'P4', 'P8');
    expect(pedals.map((place) => place.station)).toEqual(['P4', 'P5', 'P6', 'P7', 'P8']);
    expect(pedals.map((place) => place.control?.id)).toEqual([
      'P4',
      undefined,
      'P6',
      undefined,
      'P8',
    ]);
  });

  it('keep a knee’s three directions once it has any lever', () => {
    const { leftKnee, rightKnee, pedals } = placed('RKR');
    expect(rightKnee.map((place) => [place.station, place.control?.id])).toEqual([
      ['RKL', undefined],
      ['RKV', undefined],
      ['RKR', 'RKR'],
    ]);
    expect(leftKnee).toEqual([]);
    expect(pedals).toEqual([]);
  });

  it('stand in one row where 44 px each fit, else in even rows', () => {
    expect(placesPerRow(8, 600)).toBe(8);
    expect(placesPerRow(8, 352)).toBe(8);
    expect(placesPerRow(8, 328)).toBe(4);
    expect(placesPerRow(7, 300)).toBe(4);
    expect(placesPerRow(12, 328)).toBe(6);
    expect(placesPerRow(0, 328)).toBe(1);
  });

  it('move half way at a half-stop', () => {
    expect((['off', 'half', 'full'] as const).map((s) => moved(control('P1', s)))).toEqual([
      0, 0.5, 1,
    ]);
  });
});
