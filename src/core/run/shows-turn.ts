import type { Press } from '../press.js';
import { printedAt, samplePlace } from '../web.js';
import type { Trail, Turned } from './state.js';
import type { Station } from './stations.js';

/** A sample shows a turn made before its station printed it. */
export const showsTurn = (press: Press, stations: readonly Station[], turn: Turned, entry: Trail): boolean => {
  const at_m = stations.find((s) => s.id === turn.station)?.at_m;
  const place_m = samplePlace(press, entry.sensor ? 'sensor' : 'keyed', null) ?? press.sample_m;
  return at_m !== undefined && turn.web_m <= printedAt(entry.web_m, place_m, at_m);
};
