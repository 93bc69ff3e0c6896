import type { Io } from './exit.js';

/** Most logs are read before anybody wonders; from then on the share is told so often. */
const QUIET_MS = 1000;
const EVERY_MS = 300;

/**
 * Does what may have to read a long log, and tells a terminal meanwhile how much of it is read, in one line of stderr that is taken away at the end. A script
 * gets nothing of it.
 */
export const withProgress = async <T>(
  io: Io,
  work: (progress: (share: number) => void) => T | Promise<T>,
  terminal: boolean = process.stderr.isTTY === true,
  now: () => number = performance.now.bind(performance),
): Promise<T> => {
  const began = now();
  let told = began + QUIET_MS - EVERY_MS;
  let shown = false;
  const progress = (share: number): void => {
    const at = now();
    if (!terminal || at - told < EVERY_MS) return;
    told = at;
    shown = true;
    io.err(`${AT_START}${words(share, at - began)}`);
  };
  try {
    return await work(progress);
  } finally {
    if (shown) io.err(AT_START);
  }
};

/** To the first column, and what stands there is taken away. */
const AT_START = '\r\u001b[K';

const words = (share: number, took_ms: number): string => {
  const left_s = share <= 0.02 ? null : Math.ceil((took_ms * (1 - share)) / share / 1000);
  const left = left_s === null ? '' : `, ${left_s < 100 ? `${left_s} s` : `${Math.round(left_s / 60)} min`} left`;
  return `The log of a long run is being read: ${Math.floor(100 * share)} %${left}`;
};
