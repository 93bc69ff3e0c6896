/**
 * holdregister as a library: the pure core, no I/O. Begin a run from a press and a job, take one record, get the state and what was found.
 *
 *   const run = begin(firstRecord);            // Result<RunState>
 *   const { state, found } = apply(run, record);
 *   const view = boardView(state, Date.now());
 */
export type { Axis, PerAxis } from './core/axis.js';
export type {
  AdviceFinding,
  Cause,
  ClosedFinding,
  CorrectionFinding,
  EventFinding,
  Finding,
  Move,
  PlateFinding,
  SuspectFinding,
} from './core/finding.js';
export type { Job } from './core/job.js';
export { readJob } from './core/job-file.js';
export type { Press } from './core/press.js';
export { readPress } from './core/press-file.js';
export { readReadings } from './core/readings/read-readings.js';
export { recordsToCsv } from './core/readings/records-to-csv.js';
export type { LogRecord, RecordBody, RecordHead } from './core/record.js';
export type { Problem, Result } from './core/result.js';
export { admit } from './core/run/admit.js';
export { apply } from './core/run/apply.js';
export { begin, RULES } from './core/run/begin.js';
export { replayRun } from './core/run/from-file.js';
export type { RunState } from './core/run/state.js';
export { boardView } from './core/views/board.js';
export type { BoardView } from './core/views/board-view.js';
export { chartView } from './core/views/chart.js';
export type { ChartView } from './core/views/chart-view.js';
export { summaryOf } from './core/views/summary.js';
