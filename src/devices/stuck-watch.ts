import type { SensorReading } from '../core/sensor-reading.js';

/** Tells a station whose readings have stopped changing. */
export type StuckWatch = { readonly isStuck: (reading: SensorReading) => boolean; readonly reset: () => void };

type Run = { along: number | null; across: number | null; strength: number | null; times: number };

/** A live sensor's last digit flickers; the very same values `after` times in a row are a stuck sensor (0 = never said). */
export const createStuckWatch = (after: number): StuckWatch => {
  const runs = new Map<string, Run>();
  return {
    isStuck: ({ station, along_mm: along, across_mm: across, strength }) => {
      if (after === 0) return false;
      const run = runs.get(station);
      if (run === undefined || run.along !== along || run.across !== across || run.strength !== strength) {
        if (run !== undefined || runs.size < MOST_STATIONS) runs.set(station, { along, across, strength, times: 1 });
        return false;
      }
      run.times += 1;
      return (along !== null || across !== null) && run.times >= after;
    },
    reset: () => runs.clear(),
  };
};

const MOST_STATIONS = 256;
