import type { Job } from '../core/job.js';
import { readJob } from '../core/job-file.js';
import type { Press } from '../core/press.js';
import { readPress } from '../core/press-file.js';

/** The press to practise on and its job: Line B with three colours on a white, and a die that does not move side to side. All invented. */
export const practiceSetup = (): { readonly press: Press; readonly job: Job } => {
  const press = readPress(JSON.stringify(PRESS), 'the practice press');
  if (!press.ok) throw new Error(press.problem.message);
  const job = readJob(JSON.stringify(JOB), 'the practice job', press.value);
  if (!job.ok) throw new Error(job.problem.message);
  return { press: press.value, job: job.value };
};

const PRESS = {
  format: 'press/1',
  name: 'Line B (practice)',
  gear: '1/8 in CP',
  web_runs: 'left-to-right',
  roll_change: 'running',
  stations: [
    { id: '1', kind: 'print', at_m: 1.5 },
    { id: '2', kind: 'print', at_m: 2.7 },
    { id: '3', kind: 'print', at_m: 3.9 },
    { id: '4', kind: 'print', at_m: 5.1, across: { division_mm: 0.05, sense: -1, travel_mm: 5 } },
    { id: 'D', kind: 'die', at_m: 7.5, fixed: ['across'] },
  ],
  sample_m: 10,
  knobs: {
    along: { division_mm: 0.02, travel_mm: 3, sense: 1, while_running: true, to_advance: 'clockwise' },
    across: { division_mm: 0.05, travel_mm: 5, sense: 1, while_running: true, to_operator: 'clockwise' },
  },
  helix_deg: 0,
};

const JOB = {
  format: 'job/1',
  name: 'plum jam lid (practice)',
  repeat_teeth: 96,
  labels_across: 4,
  labels_around: 3,
  reference: '1',
  stations: [
    { id: '1', ink: 'opaque white' },
    { id: '2', ink: 'plum' },
    { id: '3', ink: 'leaf' },
    { id: '4', ink: 'black' },
    { id: 'D' },
  ],
  tolerance: { print: { along_mm: 0.15, across_mm: 0.15 }, die: { along_mm: 0.4, across_mm: 0.4 } },
  reading: { resolution_mm: 0.01, spread_mm: { along: 0.03, across: 0.03 }, spread_worth_checks: 10 },
  checks: { every_roll: false, every_m: 500 },
  settle_m: 60,
  finished_roll_m: 3000,
};
