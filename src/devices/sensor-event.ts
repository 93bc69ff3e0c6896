import type { SensorReading } from '../core/sensor-reading.js';

/** Where the sensor's line stands; `noisy` also tells of a wrong speed, `silent` also of a stuck sensor. */
export type SensorState = 'attached' | 'lost' | 'back' | 'silent' | 'noisy' | 'flooding';

/** All that a sensor tells the rest of the program. Text in it is safe to show. `at_ms` is the clock of `now`. */
export type SensorEvent =
  | {
      readonly kind: 'readings';
      readonly readings: readonly SensorReading[];
      readonly at_ms: number;
      readonly counter_m: number | null;
    }
  | { readonly kind: 'state'; readonly state: SensorState; readonly detail: string }
  | { readonly kind: 'refused'; readonly line: string; readonly why: string };
