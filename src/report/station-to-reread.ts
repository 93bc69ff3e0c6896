import { AXES } from '../core/axis.js';
import type { StationView } from '../core/views/board-view.js';
import type { HandoverView } from '../core/views/handover-view.js';

/** The one station that the incoming operator should read again, with why in a few words; null when nothing can be measured. */
export type Reread = { readonly station: string; readonly why: string };

/**
 * Chooses the station where a wrong number would cost most: one in the worst open movement; else the one likeliest to be out at the next
 * check; else the one whose last reading fills most of its tolerance. Of stations that are measured; the reference has nothing to read.
 */
export function stationToReread(view: HandoverView): Reread | null {
  const stations = view.board.stations.filter((station) => station.read === 'measure' && !station.is_reference);
  const first = stations[0];
  if (first === undefined) return null;
  const inEvent = view.board.events
    .filter((event) => event.open)
    .flatMap((event) => {
      const { cause } = event;
      const named = cause.kind === 'station' ? [cause.station] : cause.kind === 'several' ? cause.stations : [];
      const far = [...event.shifts_mm].sort((a, b) => Math.abs(b.mm) - Math.abs(a.mm)).map((shift) => shift.station);
      return [...named, ...far]
        .filter((id) => stations.some((station) => station.id === id))
        .map((id) => ({ station: id, why: `open movement ${event.id}` }));
    })[0];
  if (inEvent !== undefined) return inEvent;
  const likely = best(stations, (station) => Math.max(...AXES.map((axis) => station.axes[axis].next?.p_out ?? 0)));
  if (likely.score > 0.05) return { station: likely.station.id, why: 'likeliest to be out next' };
  const full = best(stations, (station) =>
    Math.max(...AXES.map((axis) => Math.abs(station.axes[axis].last_mm ?? 0) / station.axes[axis].tolerance_mm)),
  );
  return full.score > 0
    ? { station: full.station.id, why: 'closest to its limit when last read' }
    : { station: first.id, why: 'no reading stands out' };

  function best(
    from: readonly StationView[],
    scoreOf: (station: StationView) => number,
  ): { readonly station: StationView; readonly score: number } {
    return from.map((station) => ({ station, score: scoreOf(station) })).reduce((a, b) => (b.score > a.score ? b : a));
  }
}
