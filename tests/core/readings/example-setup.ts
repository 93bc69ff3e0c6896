import { readJob } from '../../../src/core/job-file.js';
import { readPress } from '../../../src/core/press-file.js';
import { type FileRun, readRows, rowsToRecords } from '../../../src/core/readings-csv.js';
import { JOB_TEXT, PRESS_TEXT } from '../example-files.js';

const press = readPress(PRESS_TEXT, 'press.json');
if (!press.ok) throw new Error(press.problem.message);
const job = readJob(JOB_TEXT, 'job.json', press.value);
if (!job.ok) throw new Error(job.problem.message);

/** The example press and job. */
export const setup = { press: press.value, job: job.value };

export const HEAD =
  'run,check,time,web_m,roll,kind,station,along_mm,across_mm,plate,flaws,labels,look,edge,value,by,note';

/** Runs of a CSV text; throws the refusal. */
export const runsOf = (text: string): readonly FileRun[] => {
  const rows = readRows(text, 'r.csv');
  if (!rows.ok) throw new Error(rows.problem.message);
  const runs = rowsToRecords(rows.value, setup, 'r.csv');
  if (!runs.ok) throw new Error(runs.problem.message);
  return runs.value;
};

/** The refusal of a CSV text, or 'accepted'. */
export const refusalOf = (text: string): string => {
  try {
    runsOf(text);
    return 'accepted';
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
};
