import { type Desk, sitDownAt } from '../ui/desk.js';
import { runPort } from '../ui/run-port.js';
import { type Moment, shiftMoments } from './moments.js';

/** What an operator can find on the board: a moment of the shift, and the keys pressed then. */
export type State = {
  readonly name: string;
  readonly moment: string;
  readonly keys: string;
  readonly prepare?: (desk: Desk) => void;
};

export const STATES: readonly State[] = [
  { name: 'quiet', moment: 'all-well', keys: '' },
  { name: 'drifting', moment: 'creeping', keys: '' },
  { name: 'reference-moved', moment: 'reference-moved', keys: '' },
  { name: 'reference-turned', moment: 'reference-turned', keys: '' },
  { name: 'web-moved', moment: 'web-moved', keys: '' },
  { name: 'tension-set', moment: 'tension-set', keys: '' },
  { name: 'out', moment: 'out-and-dirty', keys: '' },
  { name: 'overdue', moment: 'overdue', keys: '' },
  { name: 'turned', moment: 'turned', keys: '' },
  { name: 'settling', moment: 'settling', keys: '' },
  { name: 'put-right', moment: 'put-right', keys: '' },
  { name: 'misread', moment: 'misread', keys: '' },
  { name: 'second-label', moment: 'misread', keys: 'c' },
  { name: 'misread-disproved', moment: 'misread-disproved', keys: 'i' },
  { name: 'counter-set-anew', moment: 'counter-set-anew', keys: '' },
  { name: 'new-plate', moment: 'new-plate', keys: '' },
  { name: 'passed', moment: 'passed', keys: '' },
  { name: 'sensor-lost', moment: 'sensor-lost', keys: '' },
  { name: 'make-ready', moment: 'make-ready', keys: '' },
  { name: 'half-keyed', moment: 'creeping', keys: 'c5A[enter]12G[enter]1B[enter]0[enter]3' },
  { name: 'plate-not-clean', moment: 'all-well', keys: 'c[right][right][down][down][down]d12/40fe' },
  { name: 'old-setting', moment: 'two-pulled', keys: 'c[page-up]' },
  { name: 'knob-moved', moment: 'creeping', keys: 'k' },
  { name: 'sample-pulled', moment: 'all-well', keys: 'p' },
  { name: 'take-back', moment: 'all-well', keys: 'z' },
  { name: 'shift-change', moment: 'out-and-dirty', keys: 't' },
  {
    name: 'disk-full',
    moment: 'all-well',
    keys: 'cw[enter]',
    prepare: (desk) =>
      desk.port.breakWith('no room on the disk. Nothing was written; free some room and press Enter again.'),
  },
  { name: 'far-view', moment: 'out-and-dirty', keys: 'f' },
  { name: 'what-moved', moment: 'out-and-dirty', keys: 'i' },
  { name: 'ended', moment: 'ended', keys: '' },
];

const MOMENTS = shiftMoments();

export const momentOf = (state: Pick<State, 'moment'>): Moment => {
  const found = MOMENTS.find((one) => one.name === state.moment);
  if (found === undefined) throw new Error(`no moment ${state.moment}`);
  return found;
};

/** The state as an operator who pressed those keys sees it. The disk fills up after the first record, the pull. */
export async function reach(state: State): Promise<Desk> {
  const moment = momentOf(state);
  const desk = sitDownAt(runPort(moment.state, moment.at_ms));
  if (state.prepare === undefined) {
    await desk.keys(state.keys);
    return desk;
  }
  await desk.keys(state.keys.slice(0, 1));
  state.prepare(desk);
  await desk.keys(state.keys.slice(1));
  return desk;
}
