import { fail, ok, type Result } from '../core/result.js';
import { readLog } from '../store/read-log.js';

/**
 * Start of the shift to report: an ISO time, HH:MM of the last time the clock showed it, or `shift` = the last shift change in the run's log;
 * nothing = since the run began.
 */
export const sinceTime = (text: string | undefined, now: Date, folder: string): Result<string | null> => {
  if (text === undefined) return ok(null);
  if (text.trim().toLowerCase() === 'shift') return lastShiftChange(folder);
  const clock = /^(\d{1,2}):(\d{2})$/.exec(text.trim());
  if (clock !== null) {
    const [hours, minutes] = [Number(clock[1]), Number(clock[2])];
    if (hours > 23 || minutes > 59) return fail(`--since "${text}" is no time of day`);
    const at = new Date(now);
    at.setHours(hours, minutes, 0, 0);
    if (at.getTime() > now.getTime()) at.setDate(at.getDate() - 1);
    return ok(at.toISOString());
  }
  const at = Date.parse(text);
  return Number.isNaN(at)
    ? fail(`--since "${text}" is no time: say 06:00, 2026-03-02T06:00, or shift`)
    : ok(new Date(at).toISOString());
};

const lastShiftChange = (folder: string): Result<string | null> => {
  const changes = new Map<number, string>();
  const read = readLog(folder, (record) => {
    if (record.type === 'shift') changes.set(record.seq, record.at);
    if (record.type === 'withdraw' && record.entry !== null) changes.delete(record.entry);
  });
  return read.ok ? ok([...changes.values()].at(-1) ?? null) : read;
};
