import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import type { RecordBody } from '../../src/core/record.js';
import { RULES } from '../../src/core/run/begin.js';
import { type OpenOptions, openRun, type Runtime } from '../../src/runtime.js';
import { reading } from '../support/reading.js';
import type { Seeded } from '../support/seeded.js';
import { JOB, PRESS } from '../support/try-run.js';

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'holdreg-test-'));

/** A run of the tests' own press in a folder, begun and passed unless it was there already. */
export const openTestRun = async (
  folder: string,
  { press: ownPress, job: ownJob, ...options }: Partial<OpenOptions> & { press?: object; job?: object } = {},
): Promise<Runtime> => {
  const press = readPress(JSON.stringify({ ...PRESS, ...ownPress }), 'press.json');
  if (!press.ok) throw new Error(press.problem.message);
  const job = readJob(JSON.stringify({ ...JOB, ...ownJob }), 'job.json', press.value);
  if (!job.ok) throw new Error(job.problem.message);
  const first: RecordBody = {
    type: 'begin',
    run: 'r1',
    press: press.value,
    job: job.value,
    rules: RULES,
    program: 'test',
    time_zone: 'UTC',
  };
  const opened = await openRun(folder, { operator: 'MK', first, ...options });
  if (!opened.ok) throw new Error(opened.problem.message);
  const runtime = opened.value;
  if (runtime.readOnly === null && runtime.state().judged.ok === null) {
    const passed = await runtime.submit({
      type: 'ok',
      web_m: 0,
      zero_m: 0,
      passed_by: 'MK',
      check: null,
      hold_to: 'aim',
    });
    if (!passed.ok) throw new Error(passed.problem.message);
  }
  return runtime;
};

/** A check of four stations; `along` is added to station 2. */
export const checkBody = (
  check: number,
  web_m: number,
  random: Seeded,
  source: 'keyed' | 'sensor' = 'keyed',
  along = 0,
): RecordBody => ({
  type: 'check',
  check,
  web_m,
  roll: null,
  pulled_at: null,
  source,
  place: null,
  readings: ['2', '3', '4', 'D'].map((station) =>
    reading(station, {
      along_mm: Math.round((0.02 * random.normal() + (station === '2' ? along : 0)) * 1000) / 1000,
      across_mm: Math.round(0.02 * random.normal() * 1000) / 1000,
    }),
  ),
});
