import type { Axis } from '../../src/core/axis.js';
import type { ChartView } from '../../src/core/views/chart-view.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';

/** Invented chart data of a shift: a check every 650 m, a fixed zig-zag as scatter, a station that drifts and is brought back. */
export const chartOf = (station: string, axis: Axis, tolerance_mm: number, drifts: boolean): ChartView => {
  const places = Array.from({ length: 21 }, (_, index) => 8_200 + index * 650);
  const zigzag = [0.01, -0.02, 0.02, 0, -0.01, 0.03, -0.02];
  const drift = (web_m: number): number =>
    !drifts || web_m < 11_300 ? 0 : web_m < 14_060 ? ((web_m - 11_300) / 2_760) * 0.17 : 0.02;
  const points = places.map((web_m, index) => ({
    web_m,
    mm: drift(web_m) + (zigzag[index % zigzag.length] ?? 0),
    check: 12 + index,
    sensor: false,
    withdrawn: index === 15,
    signal: false,
  }));
  const end = 21_200;
  return {
    station,
    axis,
    from_m: 8_200,
    to_m: end,
    aim_mm: 0,
    tolerance_mm,
    points,
    trend: points.map(({ web_m }) => ({ web_m, mm: drift(web_m) })),
    limits_mm: { lower: -0.09, upper: 0.09 },
    began_m: drifts ? 11_300 : null,
    cone: [0, 1, 2].map((step) => ({
      web_m: end + step * 600,
      mean_mm: 0.02,
      low_mm: 0.02 - 0.02 * step,
      high_mm: 0.02 + 0.02 * step,
    })),
    rolls: [8_200, 10_200, 12_200, 14_200, 16_200, 18_200, 20_200].map((web_m, index) => ({
      web_m,
      roll: String(4 + index),
      kind: 'finished' as const,
    })),
    corrections: drifts ? [{ web_m: 14_060, move_mm: -0.15 }] : [],
    washes: [{ web_m: 12_400 }],
    speeds: [],
    stops: [],
  };
};

export const chartsOf = (view: HandoverView): readonly ChartView[] =>
  view.board.stations
    .filter((station) => station.read === 'measure' && !station.is_reference)
    .flatMap((station) => [
      chartOf(station.id, 'along', station.axes.along.tolerance_mm, station.id === '4'),
      chartOf(station.id, 'across', station.axes.across.tolerance_mm, false),
    ]);
