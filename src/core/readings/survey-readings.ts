import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { Begin, LogRecord } from '../record.js';
import { ok, type Result } from '../result.js';
import { admit } from '../run/admit.js';
import { apply } from '../run/apply.js';
import type { RunState } from '../run/state.js';
import { type RefusedRow, readSoundRows } from './read-rows.js';
import { type FileRecord, type FileRun, soundRecords } from './rows-to-records.js';

/** What a readings file would bring into a run, and every row it holds that would be refused, by line. */
export type Survey = {
  /** Press and job that a whole run came with. */
  readonly setup?: Pick<Begin, 'press' | 'job'>;
  readonly runs: readonly FileRun[];
  readonly refused: readonly RefusedRow[];
};

/** Reads a whole file and takes nothing: each row that is wrong is told, with why, not only the first. */
export const surveyReadings = (
  text: string,
  file: string,
  setup: { readonly press: Press; readonly job: Job },
): Result<Survey> => {
  const sound = readSoundRows(text, file);
  if (!sound.ok) return sound;
  const refused: RefusedRow[] = [...sound.value.refused];
  const runs = soundRecords(sound.value.rows, setup, file, ({ message, why, line }) =>
    refused.push({ line: line ?? 0, why: why ?? message }),
  );
  return ok({ runs, refused: refused.sort((a, b) => a.line - b.line) });
};

/** Holds the records of a file against a run, one after the other, as a live run would: which of them it would refuse. `taken`: checks it has already. */
export const refusedByRun = (
  state: RunState,
  records: readonly FileRecord[],
  taken: ReadonlySet<string>,
): readonly RefusedRow[] => {
  const refused: RefusedRow[] = [];
  let now = state;
  for (const { body, at, by, line } of records) {
    if (body.type === 'check' && taken.has(String(body.check))) {
      refused.push({
        line,
        why: `check ${body.check} is in the run already; take it back there first, or number it anew`,
      });
      continue;
    }
    const fit = admit(now, body);
    if (!fit.ok) {
      refused.push({ line, why: fit.problem.message });
      continue;
    }
    const record: LogRecord = { v: 1, seq: now.seq + 1, at: at ?? NO_TIME, by: by ?? 'file', ...body };
    now = apply(now, record).state;
  }
  return refused;
};

const NO_TIME = '2000-01-01T00:00:00.000Z';
