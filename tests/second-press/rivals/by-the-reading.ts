/** Hands that turn each station by what was read, once it is past a limit of theirs. */
import { AXES, type Axis, type CrewFactory, type Layout, type StationInfo } from '../crew.js';

const turnPast =
  (name: string, limitOf: (layout: Layout, station: StationInfo, axis: Axis) => number): CrewFactory =>
  (layout) => ({
    name,
    ok: () => {},
    sample: (desk) => {
      for (const station of layout.stations) {
        if (station.id === layout.referenceId) continue;
        const reading = desk.read(station.id);
        for (const axis of AXES) {
          const mm = reading[axis];
          if (mm === null || Math.abs(mm) <= limitOf(layout, station, axis)) continue;
          const divisions = Math.round(-mm / station.divisionMm[axis]);
          if (divisions !== 0) desk.turn(station.id, axis, divisions);
        }
      }
    },
  });

/** A chart with limits at three times the scatter the job believes; past them, turn the reading. */
export const threeSigma = turnPast('three-sigma', (layout) => 3 * layout.believedScatterMm);
/** Past half the tolerance, turn the reading. */
export const halfTolerance = turnPast('half-tolerance', (_, station, axis) => station.tolerance[axis] / 2);
/** Turn whatever was read, every time. */
export const turnEverything = turnPast('turn-everything', () => 0);
