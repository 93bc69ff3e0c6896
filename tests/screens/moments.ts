import type { Axis } from '../../src/core/axis.js';
import type { RunState } from '../../src/core/run/state.js';
import { boardView } from '../../src/core/views/board.js';
import type { BoardView } from '../../src/core/views/board-view.js';
import { chartView } from '../../src/core/views/chart.js';
import type { ChartView } from '../../src/core/views/chart-view.js';
import { eightColourMakeReady, eightColourShift, type Shift } from '../support/eight-colour.js';

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
 * nothing that a screen shows is written by hand. `length`: the job's unit of length.
 */
export const shiftMoments = (length: 'm' | 'ft' = 'm'): readonly Moment[] => {
  const moments: Moment[] = [];
  const shift = eightColourShift(length);
  const { along } = shift.truth;
  const keep = (name: string, truth: string, later_s = 20): void => {
    moments.push({ name, truth, state: shift.run.state(), at_ms: shift.at_ms() + later_s * 1000 });
  };
  const checkAt = (counter_m: number, said: Parameters<Shift['check']>[0] = {}): void => {
    shift.to(counter_m);
    shift.check(said);
  };
  const rollAt = (counter_m: number): void => {
    shift.to(counter_m);
    shift.roll();
  };
  const put = shift.run.put;

  moments.push(makeReadyMoment(length));
  keep('passed', 'OK to run was given at counter 9 400 on a full check; nothing has been read since.');
  for (const counter of [9_900, 10_600, 11_300]) checkAt(counter);
  rollAt(11_400);
  for (const counter of [12_000, 12_700]) checkAt(counter);
  keep('all-well', 'Every station stands at its aim and every plate is clean; roll 1 is off and good.');

  put({ type: 'sensor', state: 'attached', port: '/dev/ttyUSB0', detail: '' });
  put({ type: 'sensor', state: 'lost', port: '/dev/ttyUSB0', detail: 'the cable was pulled' });
  keep('sensor-lost', 'Every station stands at its aim; the cable of the sensor was pulled.');
  put({ type: 'sensor', state: 'detached', port: '/dev/ttyUSB0', detail: '' });

  checkAt(13_300, { misread: { '6': 0.24 } });
  keep('misread', 'Nothing has moved: 6 cream was misread at counter 13 300, it stands at 0.00.');
  checkAt(13_300, { only: ['6'] });
  keep('misread-disproved', 'Nothing has moved; the second label read 6 cream where it stands, at 0.00.');

  rollAt(13_400);
  for (const [i, counter] of [14_000, 14_600, 15_200].entries()) {
    along['4'] = 0.05 + 0.035 * i;
    checkAt(counter);
  }
  keep(
    'creeping',
    '4 grey creeps ahead 0.06 mm a kilometre since counter 13 400 and stands at 0.12; the others stand still.',
  );
  rollAt(15_400);
  along['4'] = 0.2;
  checkAt(15_800, { plates: { '5': { grade: 'dirty', flaws: 20, labels: 40 } } });
  checkAt(15_800, { only: ['4'] });
  keep('out-and-dirty', '4 grey stands 0.20 mm ahead, out since about counter 15 500; the plate of 5 black is dirty.');
  keep('overdue', 'The same, and nobody came: the press ran on for a quarter of an hour without a check.', 15 * 60);
  shift.to(15_845);
  put({ type: 'pull', check: 15, web_m: shift.web_m(), roll: '4', counter: 'keyed', place: null });
  shift.to(15_850);
  shift.turn('4', 'along', -4);
  keep(
    'turned',
    '4 grey was turned back 0.20 mm at counter 15 850; no sample shows it yet, and the plate of 5 black is still dirty.',
  );
  put({ type: 'pull', check: 16, web_m: shift.web_m() + 40, roll: '4', counter: 'estimated', age_s: 20, place: null });
  keep('two-pulled', 'Two samples wait: the older was pulled before 4 grey was turned back, the newer after it.');
  put({ type: 'withdraw', check: 15, entry: null, web_m: null });
  put({ type: 'withdraw', check: 16, entry: null, web_m: null });
  shift.to(15_900);
  put({ type: 'stop', web_m: 6_500 });
  put({ type: 'wash', station: '5', web_m: 6_500 });
  put({ type: 'start', web_m: 6_500, m_per_min: 120 });
  keep(
    'settling',
    'The plate of 5 black was washed at a stop at counter 15 900; the press runs again and register settles.',
    10,
  );
  checkAt(16_100);
  keep('put-right', '4 grey stands at 0.00 and the plate of 5 black is clean; what was made meanwhile is on hold.');

  checkAt(16_700);
  checkAt(17_300);
  rollAt(17_400);
  shift.to(17_500);
  put({ type: 'roll', web_m: shift.web_m(), length_m: 8_000 });
  const stretched = (mm: number): void => {
    for (const [i, id] of ['2', '3', '4', '5', '6', '7', '8', 'D'].entries())
      along[id] = (along[id] ?? 0) + mm * (id === 'D' ? 11.1 : (i + 1) * 1.2);
  };
  stretched(-0.015);
  checkAt(18_000);
  checkAt(18_600);
  keep(
    'web-moved',
    'Since the splice at counter 17 500 every station lies 0.015 mm farther behind for each metre of path; no knob moved.',
  );
  stretched(0.015);
  put({ type: 'web-set', what: 'tension', web_m: shift.web_m() });
  checkAt(18_900);
  checkAt(19_300);
  keep('tension-set', 'The tension was set at counter 18 600, and everything stands at its aim again.');

  rollAt(19_400);
  along['1'] = 0.13;
  checkAt(20_000);
  checkAt(20_600);
  keep(
    'reference-moved',
    '1 opaque white, the reference, stands 0.13 mm ahead since counter 19 400; nothing else moved.',
  );
  shift.turn('1', 'along', -3);
  keep(
    'reference-turned',
    '1 opaque white was turned back by 0.15 mm at counter 20 600: it stands at -0.02, and no sample shows it yet.',
  );
  checkAt(20_800);
  checkAt(21_300);

  rollAt(21_400);
  put({ type: 'counter', web_m: shift.web_m(), offset_m: shift.web_m() });
  checkAt(22_000);
  keep('counter-set-anew', 'The counter was set to 0 at 21 400 and shows 600; every station stands at its aim.');
  shift.to(22_600);
  put({ type: 'plate', station: '7', web_m: shift.web_m() });
  keep('new-plate', 'A new plate was mounted on 7 berry at counter 1 200; where it prints nobody has read.');
  checkAt(22_700);
  put({ type: 'end', web_m: shift.web_m() });
  keep('ended', 'The run ended at counter 1 300.');
  return moments;
};

/** The same press in make-ready: the counter was keyed, nothing has been read. */
const makeReadyMoment = (length: 'm' | 'ft'): Moment => {
  const { state, at_ms } = eightColourMakeReady(length);
  return { name: 'make-ready', truth: 'The plates are on, the press inches; nothing has been read.', state, at_ms };
};

export const viewAt = ({ state, at_ms }: Moment): BoardView => boardView(state, at_ms);

export const chartAt =
  ({ state }: Moment) =>
  (station: string, axis: Axis, window: { readonly from_m: number; readonly to_m: number } | null): ChartView =>
    chartView(state, station, axis, window);
