/** The readings CSV, both ways: text ⇄ rows ⇄ records. */

export type { ToWrite } from './readings/in-order-of-time.js';
export { readRows } from './readings/read-rows.js';
export { csvLines, fromLog, fromLogRecord, recordsToCsv } from './readings/records-to-csv.js';
export type { Row } from './readings/row.js';
export { type FileRecord, type FileRun, rowsToRecords } from './readings/rows-to-records.js';
