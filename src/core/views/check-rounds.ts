import type { Job } from '../job.js';
import { nextCheck } from '../run/next-check.js';
import type { Judged } from '../run/state.js';

/** Checks that were due by the job's plan: how many were made, made late, and left out. */
export type CheckRounds = {
  readonly made: number;
  readonly late: number;
  readonly missed: number;
  /** Where the last few left out ones were due. */
  readonly missed_at: readonly { readonly web_m: number; readonly why: string }[];
};

export const noRounds: CheckRounds = { made: 0, late: 0, missed: 0, missed_at: [] };

/** A check this share of the distance after it was due was late; rolls are never quite of a length. */
const SLACK = 0.1;
const KEPT = 20;

/**
 * Holds one check against what was due before it (`before`: the judgement without it). A check made late but before the next was due is
 * late, not missed; each further due place that passed counts as one left out. Nothing is due in make-ready or where the job plans nothing.
 * Example: every 2 000 m, checks at 2 000 and 6 100 m: one left out, at 4 000 m.
 */
export const roundMade = (rounds: CheckRounds, job: Job, before: Judged, web_m: number): CheckRounds => {
  if (before.ok === null) return rounds;
  const due = dueAfter(job, before);
  if (due === null) return { ...rounds, made: rounds.made + 1 };
  const passed = (web_m - due.from_m) / due.every_m;
  const missed = Math.max(0, Math.floor(passed + SLACK) - 1);
  return {
    made: rounds.made + 1,
    late: rounds.late + (passed - missed > 1 + SLACK ? 1 : 0),
    ...leftOut(rounds, due, missed),
  };
};

/** The stretch after the last check, up to where the web stands now. */
export const roundsAtEnd = (rounds: CheckRounds, job: Job, judged: Judged, web_m: number | null): CheckRounds => {
  const due = judged.ok === null ? null : dueAfter(job, judged);
  if (due === null || web_m === null) return rounds;
  return {
    ...rounds,
    ...leftOut(rounds, due, Math.max(0, Math.floor((web_m - due.from_m) / due.every_m - SLACK))),
  };
};

type Due = { readonly from_m: number; readonly every_m: number; readonly why: string };

const dueAfter = (job: Job, judged: Judged): Due | null => {
  const planned = job.checks.every_roll || job.checks.every_m !== null || job.checks.every_min !== null;
  const next = planned ? nextCheck(job, judged) : null;
  const from_m = Math.max(judged.last_check?.web_m ?? -Infinity, judged.ok?.web_m ?? 0);
  const every_m = next === null ? 0 : next.web_m - from_m;
  return next === null || every_m <= 0 ? null : { from_m, every_m, why: next.why };
};

const leftOut = (rounds: CheckRounds, due: Due, missed: number): Pick<CheckRounds, 'missed' | 'missed_at'> => ({
  missed: rounds.missed + missed,
  missed_at: [
    ...rounds.missed_at,
    ...Array.from({ length: Math.min(missed, KEPT) }, (_, i) => ({
      web_m: due.from_m + (i + 1) * due.every_m,
      why: due.why,
    })),
  ].slice(-KEPT),
});
