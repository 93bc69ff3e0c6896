import type { Axis, PerAxis } from '../axis.js';
import { keyCounter } from '../web.js';
import { addBeside } from './loupe-beside.js';
import { countMeasured } from './measured.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, LastRead, Trail } from './state.js';
import { addReading, type Sums } from './sums.js';

const KEPT_TRAIL = 400;

/** Readings, sums, trail and clock of one check, before anything is judged. */
export const takeCheck = (seen: SeenCheck): Judged => {
  const { before: judged, stations, check, measured } = seen;
  const read: Record<string, PerAxis<LastRead>> = { ...judged.read };
  const sums: Record<string, PerAxis<Sums>> = { ...judged.sums };
  for (const m of measured) {
    const was = judged.read[m.station];
    const sum = judged.sums[m.station];
    if (was === undefined || sum === undefined) continue;
    const next = (axis: Axis): LastRead => {
      const mm = m.mm[axis];
      if (mm !== null)
        return { mm, check: check.check, web_m: check.web_m, looked: null, edges_apart_mm: m.edges_apart_mm[axis] };
      return m.look === null ? was[axis] : { ...was[axis], looked: m.look };
    };
    const added = (axis: Axis): Sums => {
      const mm = m.mm[axis];
      return mm === null || judged.ok === null ? sum[axis] : addReading(sum[axis], mm);
    };
    read[m.station] = { along: next('along'), across: next('across') };
    sums[m.station] = { along: added('along'), across: added('across') };
  }
  const count = countMeasured(measured);
  const full = measured.every(
    (m, i) =>
      stations[i]?.read !== 'measure' ||
      m.station === judged.reference ||
      (m.mm.along !== null && m.mm.across !== null),
  );
  const trail: Trail = {
    check: check.check,
    web_m: check.web_m,
    roll: check.roll,
    at: check.pulled_at ?? check.at,
    sensor: check.source === 'sensor',
    along: measured.map((m) => m.mm.along),
    across: measured.map((m) => m.mm.across),
  };
  const gap = judged.last_check === null || judged.ok === null ? null : check.web_m - judged.last_check.web_m;
  return {
    ...judged,
    read,
    sums,
    web: counterOf(judged, check),
    pulls: judged.pulls.filter((p) => p.check !== check.check),
    trail: [...judged.trail, trail].slice(-KEPT_TRAIL),
    loupe: addBeside(seen),
    checks: {
      made: judged.checks.made + 1,
      looked_only: judged.checks.looked_only + (count === 0 ? 1 : 0),
      sensor: judged.checks.sensor + (check.source === 'sensor' ? 1 : 0),
      last_full_m: full ? check.web_m : judged.checks.last_full_m,
    },
    last_check:
      judged.last_check !== null && judged.last_check.web_m > check.web_m
        ? judged.last_check
        : { check: check.check, web_m: check.web_m, at: check.pulled_at ?? check.at, roll: check.roll },
    spacing_m:
      gap === null || gap <= 0
        ? judged.spacing_m
        : judged.spacing_m === null
          ? gap
          : judged.spacing_m + 0.25 * (gap - judged.spacing_m),
  };
};

/** A keyed check without a pull before it tells the counter of its sample; a later counter stands. */
const counterOf = (judged: Judged, check: SeenCheck['check']): Judged['web'] => {
  const told = judged.pulls.some((p) => p.check === check.check);
  if (check.source === 'sensor' || told || (judged.web.keyed_ms !== null && check.web_m < judged.web.base_m))
    return judged.web;
  return keyCounter(judged.web, check.web_m, Date.parse(check.pulled_at ?? check.at));
};
