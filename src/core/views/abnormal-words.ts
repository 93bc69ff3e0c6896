import { travelBudget } from '../adjust/travel.js';
import { AXES } from '../axis.js';
import { placeWords } from '../counter.js';
import { toleranceOf } from '../job.js';
import { usedTravel } from '../run/advise.js';
import { knobOf } from '../run/knob-of.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import type { BoardView } from './board-view.js';
import { eventNames } from './event-names.js';
import { loupeWarning } from './loupe-words.js';
import { sizeWords } from './number-words.js';
import { settlingWords } from './settling-words.js';

/** What is not as usual and the next shift must not be surprised by: changed tolerances, little travel left, a lost sensor, unread samples. */
export const abnormalWords = (state: RunState, board: BoardView): readonly string[] => {
  const names = eventNames(state);
  const words: string[] = [];
  if (board.phase === 'stopped') words.push('The press is stopped.');
  if (board.phase === 'settling' && board.settle_until_m !== null)
    words.push(`Register is settling until ${placeWords(board.settle_until_m, names)}: look, do not turn.`);
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
      const knob = knobOf(state.judged, station, axis);
      const used = usedTravel(state.judged, station, axis, state.press.tooth_mm);
      const budget =
        station.fixed.includes(axis) || station.knobs[axis].centred !== true
          ? null
          : travelBudget(`${labelOf(station)} ${axis}`, axis, knob.travel_mm, knob.division_mm, used, names.register);
      if (budget?.words != null) words.push(budget.words);
    }
  }
  if (board.sensor !== null && !['attached', 'back'].includes(board.sensor.state)) words.push(`${board.sensor.words}.`);
  const loupe = loupeWarning(board.stations, names);
  if (loupe !== null) words.push(loupe);
  for (const pull of board.pulled)
    words.push(`Sample ${pull.check}, pulled at ${placeWords(pull.web_m, names)}, has not been read.`);
  return [...words, ...settlingWords(state)];
};
