import { reachedBy } from './advise.js';
import type { Movement } from './state.js';
import type { Station } from './stations.js';

/** Of the movements of one axis, the one that a move of this station answers: its own, one that names it, then what reaches it. */
export const ownerOf = (
  open: readonly Movement[],
  station: string,
  stations: readonly Station[],
  reference: string,
): Movement | undefined => {
  const named = (m: Movement): boolean =>
    station === reference
      ? m.cause.kind === 'reference' || (m.cause.kind === 'station' && m.cause.station === reference)
      : m.cause.kind === 'station' && m.cause.station === station;
  const wide = (m: Movement): boolean =>
    m.cause.kind !== 'station' && (station === reference || reachedBy(m.cause, stations, reference).includes(station));
  return (
    open.find(named) ??
    open.find((m) => m.cause.kind === 'several' && wide(m)) ??
    open.find((m) => m.cause.kind === 'web' && wide(m)) ??
    open.find((m) => m.cause.kind === 'reference' && wide(m)) ??
    (station === reference ? open.find((m) => m.severity === 'out') : undefined)
  );
};
