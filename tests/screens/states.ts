import type { BoardView } from '../../src/core/views/board-view.js';
import { type Desk, sitDown } from '../ui/desk.js';
import {
  drifting,
  ended,
  makeReady,
  out,
  pulledTwo,
  quiet,
  referenceMoved,
  sensorLost,
  webMoved,
} from '../ui/fixtures.js';

/** What an operator can find on the board, and the keys that lead there. */
export type State = {
  readonly name: string;
  readonly view: () => BoardView;
  readonly keys: string;
  readonly prepare?: (desk: Desk) => void;
};

export const STATES: readonly State[] = [
  { name: 'quiet', view: quiet, keys: '' },
  { name: 'drifting', view: drifting, keys: '' },
  { name: 'reference-moved', view: referenceMoved, keys: '' },
  { name: 'web-moved', view: webMoved, keys: '' },
  { name: 'out', view: out, keys: '' },
  { name: 'sensor-lost', view: sensorLost, keys: '' },
  { name: 'make-ready', view: makeReady, keys: '' },
  { name: 'half-keyed', view: drifting, keys: 'c5A[enter]12G[enter]1B[enter]0[enter]3' },
  { name: 'plate-not-clean', view: quiet, keys: 'c[right][right][down][down][down]d12/40fe' },
  { name: 'old-setting', view: pulledTwo, keys: 'c[page-up]' },
  { name: 'knob-moved', view: drifting, keys: 'k' },
  { name: 'sample-pulled', view: quiet, keys: 'p' },
  { name: 'take-back', view: quiet, keys: 'z' },
  {
    name: 'disk-full',
    view: quiet,
    keys: 'cw[enter]',
    prepare: (desk) =>
      desk.port.breakWith('no room on the disk. Nothing was written; free some room and press Enter again.'),
  },
  { name: 'far-view', view: out, keys: 'f' },
  { name: 'ended', view: ended, keys: '' },
];

/** The state as an operator who pressed those keys sees it. The disk fills up after the first record, the pull. */
export async function reach(state: State): Promise<Desk> {
  const desk = sitDown(state.view());
  if (state.prepare === undefined) {
    await desk.keys(state.keys);
    return desk;
  }
  await desk.keys(state.keys.slice(0, 1));
  state.prepare(desk);
  await desk.keys(state.keys.slice(1));
  return desk;
}
