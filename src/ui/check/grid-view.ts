import type { BoardView, StationView } from '../../core/views/board-view.js';
import { GEAR, isGearRow } from './cells.js';
import type { Draft } from './draft.js';

/**
 * The stations as the grid has them: one that is read at both edges of the web stands in two rows, operator edge and gear edge.
 * A side knob moves both edges alike; where they disagree the plate is on crooked or the web has changed its width.
 */
export function gridView(view: BoardView, draft: Pick<Draft, 'edges'>): BoardView {
  const both = draft.edges ?? [];
  if (both.length === 0) return view;
  const stations = view.stations.flatMap((station): readonly StationView[] =>
    both.includes(station.id)
      ? [
          { ...station, label: `${station.label} operator` },
          { ...station, id: station.id + GEAR, label: `${station.label} gear`, worth_measuring: false },
        ]
      : [station],
  );
  return { ...view, stations };
}

/** The station of a row, and which edge of the web the row is for; null = not said. */
export function edgeOf(
  row: string,
  draft: Pick<Draft, 'edges'>,
): { readonly station: string; readonly edge: 'operator' | 'gear' | null } {
  if (isGearRow(row)) return { station: row.slice(0, -GEAR.length), edge: 'gear' };
  return { station: row, edge: (draft.edges ?? []).includes(row) ? 'operator' : null };
}

/** Both edges of a station, or one row again. What was keyed of the gear edge is kept in case it comes back. */
export function toggleEdges(draft: Draft, row: string): Draft {
  const { station } = edgeOf(row, draft);
  const both = draft.edges ?? [];
  const edges = both.includes(station) ? both.filter((one) => one !== station) : [...both, station];
  const at = draft.at !== 'save' && isGearRow(draft.at.station) ? { ...draft.at, station } : draft.at;
  return { ...draft, message: null, edges, at };
}
