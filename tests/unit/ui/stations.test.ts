import { describe, expect, it } from 'vitest';
import type { Station } from '$lib/setup/setup';
import { moved, stationsOf, stationsPerRow } from '$lib/ui/pedals/stations';
import type { ControlView } from '$lib/ui/neck/neckView';

const control = (station: Station, state: ControlView['state'] = 'off'): ControlView => ({
  id: station,
  station,
  state,
  hasHalf: false,
  pullsHere: true,
  spoken: station,
  reachable: true,
});

const placed = (...stations: Station[]) => stationsOf(stations.map((station) => control(station)));

describe('stations on the stand', () => {
  it('leave gaps for pedals that are missing in between, and none outside', () => {
    const { pedals } = placed('P6', 'P4', 'P8');
    expect(pedals.map((each) => each.station)).toEqual(['P4', 'P5', 'P6', 'P7', 'P8']);
    expect(pedals.map((each) => each.control?.id)).toEqual([
      'P4',
      undefined,
      'P6',
      undefined,
      'P8',
    ]);
  });

  it('keep the three directions of a second bank apart from the first, and the hand’s levers', () => {
    const { leftKnee, leftKnee2, rightKnee2, hand, pedals } = placed('LKV2', 'PALM2', 'WRIST');
    expect(leftKnee2.map((place) => [place.station, place.control?.id])).toEqual([
      ['LKL2', undefined],
      ['LKV2', 'LKV2'],
      ['LKR2', undefined],
    ]);
    expect(hand.map(({ station }) => station)).toEqual(['WRIST', 'PALM2']);
    expect([...leftKnee, ...rightKnee2, ...pedals]).toEqual([]);
  });

  it('keep a knee’s three directions once it has any lever', () => {
    const { leftKnee, rightKnee, pedals } = placed('RKR');
    expect(rightKnee.map((each) => [each.station, each.control?.id])).toEqual([
      ['RKL', undefined],
      ['RKV', undefined],
      ['RKR', 'RKR'],
    ]);
    expect(leftKnee).toEqual([]);
    expect(pedals).toEqual([]);
  });

  it('stand in one row where 44 px each fit, else in even rows', () => {
    expect(stationsPerRow(8, 600)).toBe(8);
    expect(stationsPerRow(8, 352)).toBe(8);
    expect(stationsPerRow(8, 328)).toBe(4);
    expect(stationsPerRow(7, 300)).toBe(4);
    expect(stationsPerRow(12, 328)).toBe(6);
    expect(stationsPerRow(0, 328)).toBe(1);
  });

  it('move half way at a half-stop', () => {
    expect((['off', 'half', 'full'] as const).map((s) => moved(control('P1', s)))).toEqual([
      0, 0.5, 1,
    ]);
  });
});
