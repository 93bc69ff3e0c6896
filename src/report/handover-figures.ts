import { AXES } from '../core/axis.js';
import { placesOf } from '../core/views/at-counter.js';
import type { ChartView } from '../core/views/chart-view.js';
import type { HandoverView } from '../core/views/handover-view.js';
import type { Figures } from './render-html.js';
import { chartSvg } from './svg/chart-svg.js';
import { holdsSvg } from './svg/holds-svg.js';
import { overviewSvg } from './svg/overview-svg.js';
import { platesSvg } from './svg/plates-svg.js';
import { stripSvg } from './svg/strip-svg.js';

/**
 * The pictures of a handover: the strip now, every station along the run, a chart of each station that had a movement, the holds, the
 * plates. Without charts (all stations and axes, oldest first) only what the view itself knows is drawn.
 */
export function handoverFigures(view: HandoverView, charts: readonly ChartView[]): Figures {
  const { board } = view;
  const places = placesOf(board);
  const labelOf = (id: string): string => board.stations.find((station) => station.id === id)?.label ?? `station ${id}`;
  const rows = (axis: 'along' | 'across') =>
    board.stations.flatMap(({ id, label }) =>
      charts
        .filter((chart) => chart.axis === axis && chart.station === id && chart.points.length > 0)
        .map((chart) => ({ label, chart })),
    );
  const overviews = AXES.filter((axis) => rows(axis).length > 0).map((axis) => overviewSvg(axis, rows(axis), places));
  const charted = new Set(charts.filter((chart) => chart.points.length > 0).map((chart) => chart.station));
  const moved = charts.filter((chart) =>
    view.stories.some(({ event }) => event.axis === chart.axis && stationsOf(event, charted).includes(chart.station)),
  );
  const plates = board.stations.some(({ plate }) => plate.grade !== null || plate.last_wash_m !== null)
    ? platesSvg(board)
    : null;
  const run = { from_m: view.since_web_m ?? 0, to_m: board.position.web_m ?? view.since_web_m ?? 0 };
  return {
    'state-now': [...(view.checks.made > 0 ? AXES.map((axis) => stripSvg(board, axis)) : []), ...overviews],
    holds: view.holds.length === 0 ? [] : [holdsSvg(view.holds, run, places)],
    movements: moved.map((chart) =>
      chartSvg(chart, { ...places, register: board.units.register, label: labelOf(chart.station) }),
    ),
    plates: plates === null ? [] : [plates],
  };
}

/** The stations whose own chart tells of a movement; one of the reference or the web shows on the overview, and here on the station farthest off. */
function stationsOf(event: HandoverView['stories'][number]['event'], charted: ReadonlySet<string>): readonly string[] {
  if (event.cause.kind === 'station') return [event.cause.station];
  if (event.cause.kind === 'several') return event.cause.stations;
  const far = event.shifts_mm
    .filter(({ station }) => charted.has(station))
    .sort((a, b) => Math.abs(b.mm) - Math.abs(a.mm))[0];
  return far === undefined ? [] : [far.station];
}
