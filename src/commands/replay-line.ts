import type { Finding } from '../core/finding.js';
import { jsonWithCodes } from '../core/hidden-characters.js';
import type { CheckId, LogRecord } from '../core/record.js';
import type { SummaryLine } from '../core/views/summary.js';

/** Of the input row that made a line known, exactly as it stands in the file. */
export type RowHead = {
  readonly run: string | number | null;
  readonly check: CheckId | null;
  readonly web_m: number | null;
};

/** One finding as one line of JSON: its type, whose row made it known, then the rest in the order of the contract. */
export const replayLine = (head: RowHead, finding: Finding): string => {
  const { type, ...rest } = finding;
  return jsonWithCodes({ type, ...head, ...rest });
};

/** That an entry was taken, and by which run: the answer where nothing was found, too. */
export const recordedLine = (run: RowHead['run'], { seq, at, by, type }: LogRecord): string =>
  jsonWithCodes({ type: 'recorded', run, entry: seq, of: type, at, by });

/** Last line of each run. */
export const summaryLine = (run: RowHead['run'], checks: number, stations: readonly SummaryLine[]): string =>
  jsonWithCodes({ type: 'summary', run, checks, stations: stations.map(({ cpk_95: _, ...line }) => line) });
