import { jsonWithCodes } from '../core/hidden-characters.js';
import { fromLog, recordsToCsv } from '../core/readings/records-to-csv.js';
import type { LogRecord } from '../core/record.js';
import { readLog } from '../store/read-log.js';
import { BAD, type Exit, type Io, MACHINE, OK, refuse } from './exit.js';
import { type ChartsWanted, exportCharts } from './export-charts.js';
import { findRunToRead } from './find-run.js';
import { codeFor } from './problem-code.js';

export type ExportOptions = ChartsWanted & { readonly data: string; readonly run?: string; readonly format: string };

/** A run's readings as CSV, its records as they stand in the log, one JSON document a line, or its charts as SVG. */
export const exportRun = async (options: ExportOptions, io: Io): Promise<Exit> => {
  if (!['csv', 'ndjson', 'svg'].includes(options.format))
    return refuse(io, `--format "${options.format}" is none of csv, ndjson, svg`, BAD);
  const folder = findRunToRead(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  if (options.format === 'svg') return exportCharts(folder.value, options, io);
  const records: LogRecord[] = [];
  const read = readLog(folder.value, (record) => {
    if (options.format === 'ndjson') io.out(`${jsonWithCodes(record)}\n`);
    else records.push(record);
  });
  if (!read.ok) return refuse(io, read.problem.message, MACHINE);
  const first = records[0];
  if (options.format === 'csv') io.out(recordsToCsv(fromLog(records), first?.type === 'begin' ? first.run : null));
  return OK;
};
