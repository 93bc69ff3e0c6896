import { AXES } from '../axis.js';
import { toleranceOf } from '../job.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import type { BoardView } from './board-view.js';
import { eventNames } from './event-names.js';
import { lengthWords, sizeWords } from './number-words.js';

/** Share of a knob's travel below which the next shift must know of it. */
const LITTLE_TRAVEL = 0.25;

/** What is not as usual and the next shift must not be surprised by: changed tolerances, little travel left, a lost sensor, unread samples. */
export const abnormalWords = (state: RunState, board: BoardView): readonly string[] => {
  const names = eventNames(state);
  const words: string[] = [];
  if (board.phase === 'stopped') words.push('The press is stopped.');
  if (board.phase === 'settling' && board.settle_until_m !== null)
    words.push(
      `Register is settling until ${lengthWords(board.settle_until_m, names.length, names.repeat_mm)}: look, do not turn.`,
    );
  if (state.job.reference !== state.judged.reference)
    words.push(
      `The reference is ${names.labels[state.judged.reference]}, not ${names.labels[state.job.reference]} as the job says.`,
    );
  for (const station of stationsOf(state.press, state.job)) {
    for (const axis of AXES) {
      const now = toleranceIn(state.judged, station.id, axis);
      if (now !== toleranceOf(state.job, station.id, axis))
        words.push(
          `Tolerance of ${labelOf(station)} ${axis} was changed to ${sizeWords(now, names.register)} each way.`,
        );
      const travel = board.stations.find((s) => s.id === station.id)?.axes[axis].travel_left_mm ?? null;
      const whole = station.knobs[axis].travel_mm;
      if (travel !== null && whole !== null && Math.min(travel.plus, travel.minus) < LITTLE_TRAVEL * whole)
        words.push(
          `Little travel is left on ${labelOf(station)} ${axis}: ${sizeWords(travel.plus, names.register)} toward ${axis === 'along' ? 'advance' : 'operator side'}, ${sizeWords(travel.minus, names.register)} toward ${axis === 'along' ? 'retard' : 'gear side'}.`,
        );
    }
  }
  if (board.sensor !== null && !['attached', 'back'].includes(board.sensor.state)) words.push(`${board.sensor.words}.`);
  for (const pull of board.pulled)
    words.push(
      `Sample ${pull.check}, pulled at ${lengthWords(pull.web_m, names.length, names.repeat_mm)}, has not been read.`,
    );
  return words;
};
