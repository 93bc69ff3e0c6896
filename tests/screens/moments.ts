import type { Axis } from '../../src/core/axis.js';
import type { RunState } from '../../src/core/run/state.js';
import { boardView } from '../../src/core/views/board.js';
import type { BoardView } from '../../src/core/views/board-view.js';
import { chartView } from '../../src/core/views/chart.js';
import type { ChartView } from '../../src/core/views/chart-view.js';
import { eightColourShift, type Shift } from '../support/eight-colour.js';

/** A moment of a shift on the eight-colour press: what is true on the press then, and the state that the log gives. */
export type Moment = {
  readonly name: string;
  /** One line of what is so on the press, whatever the board says. */
  readonly truth: string;
  readonly state: RunState;
  readonly at_ms: number;
};

/**
 * One shift, by its worst moments. It is keyed as records at the press counter and goes through the fold that a real run goes through;
 * nothing that a screen shows is written by hand.
 */
export const shiftMoments = (): readonly Moment[] => {
  const moments: Moment[] = [];
  const shift = eightColourShift();
  const keep = (name: string, truth: string, later_s = 20): void => {
    moments.push({ name, truth, state: shift.run.state(), at_ms: shift.at_ms() + later_s * 1000 });
  };
  const checkAt = (counter_m: number, said: Parameters<Shift['check']>[0] = {}): void => {
    shift.to(counter_m);
    shift.check(said);
  };
  const { along, across } = shift.truth;
  keep('passed', 'OK to run was given at counter 9 400; nothing has been read since.');

  for (const counter of [9_900, 10_600, 11_300]) checkAt(counter);
  shift.to(11_400);
  shift.roll();
  checkAt(12_000);
  checkAt(12_700);
  keep('all-well', 'Every station stands within 0.01 mm of its aim; roll 1 is off and good.');

  // 4 grey creeps ahead from here.
  for (const [i, counter] of [13_400, 14_100, 14_800].entries()) {
    along['4'] = 0.04 + 0.035 * i;
    if (i === 0) {
      shift.to(13_400);
      shift.roll();
    }
    checkAt(counter);
  }
  keep('creeping', '4 grey creeps 0.05 mm ahead in 1 000 m and stands at 0.11; every other station stands still.');
  along['4'] = 0.2;
  shift.to(15_400);
  shift.roll();
  checkAt(15_500, { plates: { '5': { grade: 'dirty', flaws: 20, labels: 40 } } });
  keep(
    'out-and-dirty',
    '4 grey stands 0.20 mm ahead, out; the plate of 5 black is dirty; roll 3 and what winds are to hold.',
  );
  return moments;
};

export const viewAt = ({ state, at_ms }: Moment): BoardView => boardView(state, at_ms);
export const chartAt =
  ({ state }: Moment) =>
  (station: string, axis: Axis, window: { readonly from_m: number; readonly to_m: number } | null): ChartView =>
    chartView(state, station, axis, window);
