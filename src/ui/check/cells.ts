import type { BoardView, StationView } from '../../core/views/board-view.js';

/** The end of the name of a row that is a station's gear edge. */
export const GEAR = '|gear';

export const isGearRow = (row: string): boolean => row.endsWith(GEAR);

export type CellName = 'along' | 'across' | 'plate';

export type Cell = { readonly station: string; readonly cell: CellName };

/** Where the cursor of the check grid stands: a field, or the last line, where Enter saves. */
export type Place = Cell | 'save';

/** The fields of one station: a reference is not read against itself, a die has no plate, a varnish is only looked at. */
export function cellsOf(station: StationView): readonly CellName[] {
  const plate: readonly CellName[] = station.kind === 'print' && !isGearRow(station.id) ? ['plate'] : [];
  if (station.is_reference || station.read === 'never') return plate;
  return station.read === 'look' ? ['along', ...plate] : ['along', 'across', ...plate];
}

/** Whether the field takes a look only, no number. */
export const isLookCell = (station: StationView, cell: CellName): boolean =>
  station.read === 'look' && cell === 'along';

/** The order Enter walks: both directions station by station as the web runs, then the plates. */
export function cellOrder(view: Pick<BoardView, 'stations'>): readonly Cell[] {
  const all = view.stations.flatMap((station) => cellsOf(station).map((cell): Cell => ({ station: station.id, cell })));
  return [...all.filter((one) => one.cell !== 'plate'), ...all.filter((one) => one.cell === 'plate')];
}

/** The next or previous place in the order of Enter. */
export function walk(view: BoardView, at: Place, step: 1 | -1): Place {
  const order = cellOrder(view);
  const here =
    at === 'save' ? order.length : order.findIndex((one) => one.station === at.station && one.cell === at.cell);
  const next = Math.max(0, Math.min(order.length, here + step));
  return order[next] ?? 'save';
}

/** Where an arrow leads. Past the last station stands the last line. */
export function arrow(view: BoardView, at: Place, key: 'up' | 'down' | 'left' | 'right'): Place {
  if (at === 'save') return key === 'down' ? 'save' : lastOf(view, key === 'right' ? 'plate' : 'along');
  const station = view.stations.findIndex((one) => one.id === at.station);
  if (key === 'left' || key === 'right') {
    const cells = view.stations[station] === undefined ? [] : cellsOf(view.stations[station]);
    const cell = cells[cells.indexOf(at.cell) + (key === 'right' ? 1 : -1)];
    return cell === undefined ? at : { station: at.station, cell };
  }
  const step = key === 'down' ? 1 : -1;
  for (let i = station + step; i >= 0 && i < view.stations.length; i += step) {
    const other = view.stations[i];
    if (other === undefined) break;
    const cells = cellsOf(other);
    if (cells.includes(at.cell)) return { station: other.id, cell: at.cell };
    if (at.cell === 'across' && cells.includes('along')) return { station: other.id, cell: 'along' };
  }
  return step === 1 ? 'save' : at;
}

function lastOf(view: BoardView, cell: CellName): Place {
  const found = cellOrder(view).filter((one) => one.cell === cell);
  return found[found.length - 1] ?? cellOrder(view)[0] ?? 'save';
}
