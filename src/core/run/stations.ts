import type { Job, JobStation } from '../job.js';
import type { Press, PressStation } from '../press.js';
import type { Judged } from './state.js';

/** A station of the job at its place on the press. */
export type Station = PressStation & Pick<JobStation, 'ink' | 'read' | 'aim_mm'>;

/** Stations of the job in web order; the one order that every array of a run follows. */
export const stationsOf = (press: Press, job: Job): readonly Station[] => {
  const cached = orders.get(job);
  if (cached !== undefined) return cached;
  const order = press.stations.flatMap((at) => {
    const wanted = job.stations.find((s) => s.id === at.id);
    return wanted === undefined ? [] : [{ ...at, ink: wanted.ink, read: wanted.read, aim_mm: wanted.aim_mm }];
  });
  orders.set(job, order);
  return order;
};

/** "4 grey", "die": as the operator says it. */
export const labelOf = (station: Station): string =>
  station.kind === 'die'
    ? /^d(ie)?$/i.test(station.id)
      ? 'die'
      : `die ${station.id}`
    : station.ink === null
      ? station.id
      : `${station.id} ${station.ink}`;

/** Whether numbers are read of it: not the reference, not a varnish. */
export const isMeasured = (station: Station, judged: Pick<Judged, 'reference'>): boolean =>
  station.id !== judged.reference && station.read === 'measure';

// A job is never changed, so its order is found once; the cache holds nothing that could differ.
const orders = new WeakMap<Job, readonly Station[]>();
