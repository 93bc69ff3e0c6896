import { AXES, type Axis } from '../axis.js';
import { type EventFor, type HoldCheck, type HoldConfig, stepHold, type ToldSpan } from '../hold/hold.js';
import { repeatMm } from '../job.js';
import { printedAt } from '../web.js';
import { SAME_SAMPLE_M } from './one-sample.js';
import { isSameSample, type SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';

/** Product to hold after this check. Movements only lend their number: what is held follows the readings. */
export const holdCheck = (seen: SeenCheck, judged: Judged): Judged => {
  const holds = stepHold(judged.holds, configOf(seen), checkOf(seen, judged), eventOf(seen, judged));
  if (holds.spans === judged.holds.spans) return { ...judged, holds };
  const movements = judged.movements.map((m) => {
    const mine = holds.spans.findLast((span) => span.event === m.key);
    return mine === undefined ? m : { ...m, suspect: spanOf(mine) };
  });
  return { ...judged, holds, movements };
};

const spanOf = ({ from, to, rolls, labels }: ToldSpan): NonNullable<Movement['suspect']> => ({
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
    // Near the first of its labels: checks every hundred metres are no one sample.
    same_sample: isSameSample(seen) && Math.abs(check.web_m - before.holds.sample_m) <= SAME_SAMPLE_M,
    readings: stations.map((s, i) => ({
      station: s.id,
      along_mm: measured[i]?.mm.along ?? null,
      across_mm: measured[i]?.mm.across ?? null,
      look: measured[i]?.look ?? null,
      only_looked: s.read === 'look',
      read_on: AXES.filter((axis) => (judged.read[s.id]?.[axis].mm ?? null) !== null),
      plate: check.readings.find((r) => r.station === s.id && r.plate !== null)?.plate ?? null,
      printed_m: printedAt(check.web_m, place_m, s.at_m),
    })),
    reference_printed_m: printedAt(check.web_m, place_m, reference_m),
  };
};

/**
 * The movement that is open on the axis for a station: one that is out before one that is not; the station's own, then that of its pair,
 * then several, reference or web that reach it. An 'off' that was only looked at belongs to what is open on either axis.
 */
const eventOf =
  ({ before }: SeenCheck, { movements }: Judged): EventFor =>
  (station, axis) => {
    const open = movements.filter((m) => m.closed === null);
    const fits = (on: Axis): readonly Movement[] =>
      open
        .filter((m) => m.axis === on && nearness(m, station, before.reference) !== null)
        .toSorted(
          (a, b) =>
            Number(b.severity === 'out') - Number(a.severity === 'out') ||
            (nearness(a, station, before.reference) ?? 0) - (nearness(b, station, before.reference) ?? 0) ||
            a.key - b.key,
        );
    const other: Axis = axis === 'along' ? 'across' : 'along';
    return (fits(axis)[0] ?? fits(other).find((m) => m.severity === 'out' && m.cause.kind === 'station'))?.key ?? null;
  };

/** How near a movement's name is to a station, 0 nearest; null = it does not reach it. */
const nearness = ({ cause, pair }: Movement, station: string, reference: string): number | null => {
  if (cause.kind === 'station' && cause.station === station) return 0;
  if (pair?.includes(station) === true) return 1;
  if (cause.kind === 'several') return cause.stations.includes(station) ? 2 : null;
  return cause.kind !== 'station' && station !== reference ? 3 : null;
};
