import type { BoardView } from '../core/views/board-view.js';
import type { ActContext } from './acts/act.js';
import type { Screen, ScreenContext } from './looking.js';

/** The station the board's cursor is on: the one chosen, else the one that moved, else the first that is measured. */
export function selectedStation(screen: Screen, view: BoardView): string {
  const chosen = view.stations.find((one) => one.id === screen.selected.station);
  if (chosen !== undefined) return chosen.id;
  const open =
    view.events.find((one) => one.id === view.instruction.event && one.open) ?? view.events.find((one) => one.open);
  // Of the reference nothing is read; where it moved, the station that shows it most is looked at.
  const read = (open?.shifts_mm ?? []).filter((one) =>
    view.stations.some((station) => station.id === one.station && !station.is_reference && station.read === 'measure'),
  );
  const most = [...read].sort((a, b) => Math.abs(b.mm) - Math.abs(a.mm))[0]?.station;
  const measured = view.stations.find((one) => one.read === 'measure' && !one.is_reference)?.id;
  return most ?? measured ?? view.stations[0]?.id ?? '';
}

export const actContext = (
  screen: Screen,
  context: Pick<ScreenContext, 'view' | 'operator' | 'nowMs' | 'signSheet'>,
): ActContext => ({
  view: context.view,
  operator: context.operator,
  nowMs: context.nowMs,
  ...(context.signSheet === undefined ? {} : { signSheet: context.signSheet }),
  selected: { station: selectedStation(screen, context.view), axis: screen.selected.axis },
});
