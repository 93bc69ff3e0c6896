/** The readings CSV, both ways: text ⇄ rows ⇄ records. */

export { readRows } from './readings/read-rows.js';
export { fromLog, recordsToCsv, type ToWrite } from './readings/records-to-csv.js';
export type { Row } from './readings/row.js';
export { type FileRecord, type FileRun, rowsToRecords } from './readings/rows-to-records.js';
