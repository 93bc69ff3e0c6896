import type { Job } from '../job.js';
import type { Judged } from './state.js';

/** Where the next check is expected and why; null = nothing says. */
export type NextCheck = {
  readonly web_m: number;
  readonly why: 'roll off' | 'metres' | 'minutes' | 'as before';
};

/**
 * The next check is the earliest of the expected end of the finished roll, every so many metres, and every so many minutes at the present
 * speed. Where the job names none of these, checks are expected as far apart as they have been.
 */
export const nextCheck = (job: Job, judged: Judged): NextCheck | null => {
  const last = judged.last_check;
  const from_m = last?.web_m ?? judged.ok?.web_m ?? judged.web.base_m;
  const due: NextCheck[] = [];
  const roll_m = judged.roll.usual_m ?? job.finished_roll_m;
  if (job.checks.every_roll && roll_m !== null && roll_m > 0) {
    const start_m = judged.roll.off_m ?? judged.ok?.web_m ?? 0;
    const rolls = Math.floor((from_m - start_m + roll_m * 0.02) / roll_m) + 1;
    due.push({ web_m: start_m + Math.max(1, rolls) * roll_m, why: 'roll off' });
  }
  if (job.checks.every_m !== null) due.push({ web_m: from_m + job.checks.every_m, why: 'metres' });
  const speed = judged.web.speed_m_per_min;
  if (job.checks.every_min !== null && speed !== null && speed > 0)
    due.push({ web_m: from_m + job.checks.every_min * speed, why: 'minutes' });
  if (due.length === 0 && judged.spacing_m !== null) due.push({ web_m: from_m + judged.spacing_m, why: 'as before' });
  return due.length === 0 ? null : due.reduce((a, b) => (b.web_m < a.web_m ? b : a));
};
