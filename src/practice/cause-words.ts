import type { Axis } from '../core/axis.js';
import { labelOf } from '../core/run/stations.js';
import type { PracticeCause } from './cause.js';
import { stationOf, type World } from './world.js';

/** One plain sentence of what befell the press. */
export const causeWords = (world: World, cause: PracticeCause): string => {
  const name = (id: string): string => {
    const station = stationOf(world, id);
    return station === null ? id : `${labelOf(station)}${id === world.job.reference ? ', the reference,' : ''}`;
  };
  switch (cause.kind) {
    case 'creep':
      return `From ${cause.from_m} m the ${cause.axis} knob of ${name(cause.station)} crept ${size(cause.mm_per_km, cause.axis)} a kilometre${cause.held ? ', its lock being loose' : ', by wear, locked or not'}.`;
    case 'slip':
      return `At ${cause.at_m} m the plate of ${name(cause.station)} slipped ${size(cause.mm, cause.axis)}.`;
    case 'tooth':
      return `At ${cause.at_m} m the gear of ${name(cause.station)} jumped ${Math.abs(cause.teeth)} ${Math.abs(cause.teeth) === 1 ? 'tooth' : 'teeth'} ${cause.teeth > 0 ? 'ahead' : 'behind'}.`;
    case 'tension':
      return `At ${cause.at_m} m the tension of the web changed: everything moved ${size(cause.mm_per_m, 'along')} for each metre from the reference.`;
    case 'unwind':
      return `Tension rose as each stock roll grew small: up to ${size(cause.mm_per_m, 'along')} a metre at its end, and back with the next roll.`;
    case 'warm-up':
      return `From ${cause.at_m} m the press warmed up: ${size(cause.mm_per_m, 'along')} a metre away from register, coming back by itself over ${cause.over_m} m.`;
    case 'dirt':
      return `From ${cause.from_m} m the plate of ${name(cause.station)} filled in; from ${Math.round(cause.from_m + 1000 / cause.flaws_per_km)} m on it was dirty.`;
    case 'misread':
      return `On the first sample from ${cause.at_m} m on one mark of ${name(cause.station)} was a bad one: it read ${size(cause.mm, cause.axis)} off, and nothing had moved.`;
  }
};

/** "0.3 mm toward the gear side". */
export const size = (mm: number, axis: Axis): string =>
  `${Number(Math.abs(mm).toFixed(3))} mm ${axis === 'along' ? (mm > 0 ? 'ahead' : 'behind') : mm > 0 ? 'toward the operator side' : 'toward the gear side'}`;
