import { AXES } from '../axis.js';
import { knobOf } from '../run/knob-of.js';
import { readAsSet } from '../run/open-trial.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import type { Instruction } from './board-view.js';

/**
 * In make-ready, once all is in: offers to measure the first knob that is not and was not turned either (a turn measures it), of a station that was read.
 * It costs no product then.
 */
export const offerTrial = (state: RunState, instruction: Instruction): Instruction => {
  const { press, job, judged } = state;
  const waits = instruction.urgency !== 'calm' || instruction.tells_from_m !== null;
  if (judged.phase !== 'make-ready' || waits) return instruction;
  for (const station of stationsOf(press, job))
    for (const axis of AXES) {
      if (station.fixed.includes(axis) || station.id === judged.reference) continue;
      if (judged.turns.some((t) => t.station === station.id && t.axis === axis)) continue;
      if (knobOf(judged, station, axis).division_mm !== null || readAsSet(state, station, axis) === null) continue;
      const offer = `The knob of ${labelOf(station)} is not measured ${axis}: d on the board measures it.`;
      return { ...instruction, why: [instruction.why, offer].filter((words) => words !== '').join(' ') };
    }
  return instruction;
};
