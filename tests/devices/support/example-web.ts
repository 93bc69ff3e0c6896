import type { SimulatedWeb } from '../../../src/devices/simulated-web.js';

/** A small invented press: stations 1 to 4 and a die, read against 1. */
export const exampleWeb = (change: Partial<SimulatedWeb> = {}): SimulatedWeb => ({
  stations: [
    { id: '1', at_m: 1.5, run_out_mm: 0 },
    { id: '2', at_m: 2.7, run_out_mm: 0 },
    { id: '3', at_m: 3.9, run_out_mm: 0 },
    { id: '4', at_m: 5.1, run_out_mm: 0 },
    { id: 'D', at_m: 8.4, run_out_mm: 0 },
  ],
  reference: '1',
  sensor_m: 11,
  repeat_m: 0.3048,
  marks_per_repeat: 1,
  causes: [],
  noise_mm: { along: 0, across: 0 },
  resolution_mm: 0,
  share_bad: 0,
  ...change,
});
