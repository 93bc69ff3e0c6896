import { statSync } from 'node:fs';
import type { LogPlace } from './read-log.js';
import { segmentsOf } from './segments.js';

/** How much of a run's log, as long as it is now, stands before a place: 0 to 1 by bytes. */
export const logShare = (folder: string): ((place: LogPlace) => number) => {
  const segments = segmentsOf(folder);
  const sizes = segments.ok ? segments.value.map(sizeOf) : [];
  const all = sum(sizes);
  return ({ segment, offset }) => (all === 0 ? 1 : Math.min(1, (sum(sizes.slice(0, segment - 1)) + offset) / all));
};

const sum = (sizes: readonly number[]): number => sizes.reduce((total, size) => total + size, 0);

/** One that cannot be looked at is told of when it is read. */
const sizeOf = (file: string): number => {
  try {
    return statSync(file).size;
  } catch {
    return 0;
  }
};
