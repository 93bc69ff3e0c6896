import type { SensorEvent } from '../../../src/devices/sensor-event.js';
import { until } from './until.js';

/** What a sensor told, and ways of looking at it. */
export type SensorLog = {
  readonly events: SensorEvent[];
  readonly onEvent: (event: SensorEvent) => void;
  readonly states: () => string[];
  readonly details: () => string;
  /** "2:0.05" for station 2, along 0.05. */
  readonly readings: () => string[];
  readonly refused: () => string[];
  /** The port has opened for the n-th time and has been quiet: what comes now begins a line. */
  readonly open: (times?: number) => Promise<void>;
};

export const sensorLog = (): SensorLog => {
  const events: SensorEvent[] = [];
  const states = (): string[] => events.flatMap((e) => (e.kind === 'state' ? [e.state] : []));
  return {
    events,
    onEvent: (event) => events.push(event),
    states,
    details: () => events.flatMap((e) => (e.kind === 'state' ? [e.detail] : [])).join('\n'),
    readings: () =>
      events.flatMap((e) => (e.kind === 'readings' ? e.readings.map((r) => `${r.station}:${r.along_mm}`) : [])),
    refused: () => events.flatMap((e) => (e.kind === 'refused' ? [e.why.split(':')[0] ?? ''] : [])),
    open: async (times = 1) => {
      await until('the port to open', () => states().filter((s) => s === 'attached' || s === 'back').length >= times);
      await new Promise((resolve) => setTimeout(resolve, 150));
    },
  };
};
