import { reachedBy } from './reached-by.js';
import type { Movement } from './state.js';
import type { Station } from './stations.js';

/**
 * Of the movements of one axis, the one that a move of this station answers: its own, one that names it, that of a fixed station to which
 * all the print is brought (`meets`), then what reaches it.
 */
export const ownerOf = (
  open: readonly Movement[],
  station: string,
  stations: readonly Station[],
  reference: string,
  meets: readonly string[],
): Movement | undefined => {
  const named = (m: Movement): boolean =>
    station === reference
      ? m.cause.kind === 'reference' || (m.cause.kind === 'station' && m.cause.station === reference)
      : m.cause.kind === 'station' && m.cause.station === station;
  const wide = (m: Movement): boolean =>
    m.cause.kind !== 'station' && (station === reference || reachedBy(m.cause, stations, reference).includes(station));
  return (
    open.find(named) ??
    open.find((m) => m.cause.kind === 'station' && meets.includes(m.cause.station)) ??
    open.find((m) => m.cause.kind === 'several' && wide(m)) ??
    open.find((m) => m.cause.kind === 'web' && wide(m)) ??
    open.find((m) => m.cause.kind === 'reference' && wide(m)) ??
    (station === reference ? open.find((m) => m.severity === 'out') : undefined)
  );
};
