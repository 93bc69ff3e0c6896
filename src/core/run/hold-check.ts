import type { Axis } from '../axis.js';
import { type HoldCheck, type HoldConfig, type Suspect, stepHold } from '../hold/hold.js';
import { repeatMm } from '../job.js';
import { printedAt } from '../web.js';
import { EDGE_MM, pairsRead } from './pairs.js';
import { reachedBy } from './reached-by.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';
import { toleranceIn } from './tolerance-in.js';

const KEPT_PLATE_HOLDS = 100;

/** Product to hold after this check: by movement that has been out, and by plate that is dirty. */
export const holdCheck = (seen: SeenCheck, judged: Judged): Judged => {
  const { state, suspects } = stepHold(judged.holds, configOf(seen), checkOf(seen, judged));
  const movements = judged.movements.map((m) => {
    const mine = suspects.find((s) => s.event === m.key);
    return mine === undefined ? m : { ...m, suspect: spanOf(mine) };
  });
  const plates = suspects.flatMap((s) =>
    s.event !== null || s.station === undefined
      ? []
      : [{ key: `${s.station}|${s.from.web_m}`, station: s.station, ...spanOf(s) }],
  );
  const kept = judged.plate_suspects.filter((p) => !plates.some((q) => q.key === p.key));
  return { ...judged, holds: state, movements, plate_suspects: [...kept, ...plates].slice(-KEPT_PLATE_HOLDS) };
};

const spanOf = ({ from, to, rolls, labels }: Suspect): Pick<Suspect, 'from' | 'to' | 'rolls' | 'labels'> => ({
  from,
  to,
  rolls,
  labels,
});

const configOf = ({ press, job, before }: SeenCheck): HoldConfig => ({
  reference: before.reference,
  tolerance_mm: before.tolerance_mm,
  pairs: job.pairs,
  count: { repeat_m: repeatMm(press, job) / 1000, around: job.labels_around, across: job.labels_across },
});

const checkOf = (seen: SeenCheck, judged: Judged): HoldCheck => {
  const { before, check, measured, stations, place_m } = seen;
  const reference_m = stations.find((s) => s.id === before.reference)?.at_m ?? 0;
  return {
    place: { check: check.check, web_m: check.web_m, roll: check.roll },
    readings: stations.map((s, i) => ({
      station: s.id,
      along_mm: measured[i]?.mm.along ?? null,
      across_mm: measured[i]?.mm.across ?? null,
      plate: check.readings.find((r) => r.station === s.id && r.plate !== null)?.plate ?? null,
      printed_m: printedAt(check.web_m, place_m, s.at_m),
    })),
    reference_printed_m: printedAt(check.web_m, place_m, reference_m),
    out: judged.movements.flatMap((m) => outOf(seen, m)),
    unfinished: judged.movements.flatMap((m) =>
      m.closed === null && m.been_out && !judged.turns.some((t) => t.event === m.key) ? [m.key] : [],
    ),
  };
};

/** What is outside tolerance on this sample, by the movement it belongs to. */
const outOf = (
  { job, before, measured, stations }: SeenCheck,
  m: Movement,
): readonly { event: number; station: string; axis: Axis }[] => {
  if (m.closed !== null || !m.been_out) return [];
  const reached = reachedBy(m.cause, stations, before.reference);
  const alone = measured.flatMap((x) => {
    if (!reached.includes(x.station)) return [];
    const mm = x.mm[m.axis];
    const out = mm === null ? x.look === 'off' : Math.abs(mm) > toleranceIn(before, x.station, m.axis) + EDGE_MM;
    return out ? [x.station] : [];
  });
  const apart = pairsRead(job, before, measured, m.axis).flatMap((p) =>
    p.out && p.stations.some((id) => reached.includes(id) || m.pair?.includes(id)) ? p.stations : [],
  );
  return [...new Set([...alone, ...apart])].map((station) => ({ event: m.key, station, axis: m.axis }));
};
