import { jsonWithCodes } from '../core/hidden-characters.js';
import { csvLines, fromLogRecord } from '../core/readings-csv.js';
import type { LogRecord } from '../core/record.js';
import { readAgain } from '../store/read-again.js';
import { BAD, type Exit, type Io, MACHINE, OK, refuse } from './exit.js';
import type { ChartsWanted } from './export-charts.js';
import { findRunToRead } from './find-run.js';
import { codeFor } from './problem-code.js';

export type ExportOptions = ChartsWanted & { readonly data: string; readonly run?: string; readonly format: string };

/** A run's readings as CSV, its records as they stand in the log, one JSON document a line, or its charts as SVG. */
export const exportRun = async (options: ExportOptions, io: Io): Promise<Exit> => {
  if (!['csv', 'ndjson', 'svg'].includes(options.format))
    return refuse(io, `--format "${options.format}" is none of csv, ndjson, svg`, BAD);
  const folder = findRunToRead(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  if (options.format === 'svg') {
    const { exportCharts } = await import('./export-charts.js');
    return exportCharts(folder.value, options, io);
  }
  const log = readAgain(folder.value);
  const damage = await write(options.format === 'csv' ? csvOf(log.records) : ndjsonOf(log.records()), io, log.problem);
  return damage === null ? OK : refuse(io, damage, MACHINE);
};

/** A log of any length goes out a piece at a time, as fast as it is taken: what waits to be written would else fill the memory. */
const write = async (lines: Iterable<string>, io: Io, problem: () => string | null): Promise<string | null> => {
  let piece = '';
  for (const line of lines) {
    // A CSV is made of several readings of the log: one that is damaged is found before its first line.
    if (problem() !== null) return problem();
    piece += line;
    if (piece.length < PIECE) continue;
    io.out(piece);
    piece = '';
    await io.drained?.();
  }
  if (piece !== '') io.out(piece);
  return problem();
};

const PIECE = 1 << 16;

const csvOf = (records: () => Iterable<LogRecord>): Iterable<string> => {
  const [first] = records();
  return csvLines(() => written(records()), first?.type === 'begin' ? first.run : null);
};

function* written(records: Iterable<LogRecord>) {
  for (const record of records) yield fromLogRecord(record);
}

function* ndjsonOf(records: Iterable<LogRecord>): Generator<string> {
  for (const record of records) yield `${jsonWithCodes(record)}\n`;
}
