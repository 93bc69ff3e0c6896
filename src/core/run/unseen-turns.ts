import type { Axis } from '../axis.js';
import { knobVariance } from '../planner/choose-moves.js';
import { printedAt } from '../web.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged } from './state.js';

/** Corrections that this sample does not show yet, by station, as they act on its reading; and the variance of what they gave. */
export const unseenTurns = (
  seen: SeenCheck,
  judged: Judged,
  axis: Axis,
): readonly { readonly mm: number; readonly variance: number }[] => {
  const { check, stations, place_m } = seen;
  const of = (k: number): { mm: number; variance: number } => {
    const station = stations[k];
    let mm = 0;
    let variance = 0;
    if (station === undefined) return { mm, variance };
    const printed = printedAt(check.web_m, place_m, station.at_m);
    for (const t of judged.turns) {
      if (t.station !== station.id || t.axis !== axis || t.web_m <= printed) continue;
      mm += t.move_mm;
      variance += knobVariance(t.move_mm);
    }
    return { mm, variance };
  };
  const all = stations.map((_, k) => of(k));
  const reference = all[stations.findIndex((s) => s.id === judged.reference)] ?? { mm: 0, variance: 0 };
  return all.map((own, k) =>
    stations[k]?.id === judged.reference
      ? { mm: 0, variance: 0 }
      : { mm: own.mm - reference.mm, variance: own.variance + reference.variance },
  );
};
