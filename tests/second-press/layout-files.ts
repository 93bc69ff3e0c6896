/** A layout as the program's press and job files say it. */
import type { Axis, Layout } from './crew.js';

/** The stations of the press file: where each stands, and what of it cannot be moved. */
export const pressStations = (layout: Layout): readonly object[] => {
  const fixed = (id: string): readonly Axis[] =>
    (['along', 'across'] as const).filter((axis) => !layout.hasKnob(id, axis));
  return layout.stations.map((s) => ({ id: s.id, kind: s.kind, at_m: s.atM, fixed: fixed(s.id) }));
};

/** The job file: reference, tolerances and the scatter that is believed. */
export const jobOf = (layout: Layout): object => ({
  reference: layout.referenceId,
  stations: layout.stations.map((s) => ({ id: s.id })),
  tolerance: {
    stations: Object.fromEntries(
      layout.stations.map((s) => [s.id, { along_mm: s.tolerance.along, across_mm: s.tolerance.across }]),
    ),
    print: { along_mm: 0.15, across_mm: 0.15 },
    die: { along_mm: 0.4, across_mm: 0.4 },
  },
  reading: {
    resolution_mm: layout.graduationMm,
    spread_mm: layout.believedScatterMm,
    spread_worth_checks: 10,
  },
});

/** Movement of one division as the plates on the press say, mm. */
export const divisionOf = (layout: Layout, axis: Axis): number => layout.stations[0]?.divisionMm[axis] ?? 0.02;
