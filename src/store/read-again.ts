import type { LogRecord } from '../core/record.js';
import { logBatches } from './read-log.js';

/** A log that can be read again and again, a record at a time, whoever writes to it meanwhile. */
export type ReadAgain = {
  /** Every record, first to last; up to where the log went when it was first read to its end. */
  readonly records: () => Iterable<LogRecord>;
  /** What is wrong with the log, as far as it was read; null = nothing. */
  readonly problem: () => string | null;
};

export const readAgain = (folder: string): ReadAgain => {
  let last = Number.POSITIVE_INFINITY;
  let problem: string | null = null;
  function* records(): Generator<LogRecord> {
    const batches = logBatches(folder);
    for (;;) {
      const step = batches.next();
      if (step.done === true) {
        if (step.value.ok) last = Math.min(last, step.value.value.lastSeq);
        else problem = step.value.problem.message;
        return;
      }
      for (const record of step.value.records) {
        if (record.seq > last) return;
        yield record;
      }
    }
  }
  return { records, problem: () => problem };
};
