import { repeatMm } from '../job.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import type { EventNames } from './event-words.js';

/** What words need to know of a run: units, names of stations, the reference of now. */
export const eventNames = (state: RunState): EventNames => {
  const stations = stationsOf(state.press, state.job);
  return {
    register: state.job.units.register,
    length: state.job.units.length,
    repeat_mm: repeatMm(state.press, state.job),
    counters: state.judged.counters,
    labels: Object.fromEntries(stations.map((s) => [s.id, labelOf(s)])),
    dies: stations.flatMap((s) => (s.kind === 'die' ? [s.id] : [])),
    reference: state.judged.reference,
  };
};
