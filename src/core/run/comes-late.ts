import type { LogRecord } from '../record.js';

/** Records that may be told after checks whose samples they concern: those are judged anew with it in its place on the web. */
export const comesLate = (record: LogRecord): record is Extract<LogRecord, { type: 'correction' | 'wash' | 'knob' }> =>
  record.type === 'correction' || record.type === 'wash' || record.type === 'knob';
