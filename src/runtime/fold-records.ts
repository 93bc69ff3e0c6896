import type { LogRecord } from '../core/record.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { takeRecord } from './take-record.js';

/** A run worked out of its records, one after the other as they are read. */
export type Folding = {
  readonly take: (record: LogRecord) => void;
  readonly state: () => RunState | null;
  /** Why the first record begins no run; null = it does. */
  readonly broken: () => string | null;
};

/** From its first record on, or from a state that stands for all records before. */
export const foldRecords = (folder: string, from: RunState | null = null): Folding => {
  let state = from;
  let broken: string | null = null;
  return {
    take: (record) => {
      if (state !== null) state = takeRecord(folder, state, record).state;
      else {
        const begun = begin(record);
        if (begun.ok) state = begun.value;
        else broken ??= begun.problem.message;
      }
    },
    state: () => state,
    broken: () => broken,
  };
};
