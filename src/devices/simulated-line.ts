import type { LineHandlers, OpenLine } from './serial-line.js';
import type { SimulatedPress } from './simulated-press.js';

/** A simulated press on a line inside the program: for the demo where no pseudo-terminal can be had. */
export type SimulatedLine = {
  readonly openLine: OpenLine;
  /** Time passes on the press; what the sensor says goes out. */
  readonly advance: (ms: number) => void;
  readonly unplug: () => void;
  readonly plug: () => void;
};

export const simulatedLine = (press: SimulatedPress): SimulatedLine => {
  let handlers: LineHandlers | null = null;
  let plugged = true;
  const send = (all: readonly Buffer[]): void => {
    for (const bytes of all) handlers?.onData(bytes);
  };
  return {
    openLine: async (path, _settings, wanted) => {
      if (!plugged) throw new Error(`No such file or directory, cannot open ${path}`);
      if (handlers !== null) throw new Error('Resource temporarily unavailable Cannot lock port');
      handlers = wanted;
      return {
        write: (bytes) => {
          // The answer comes later, as on a wire, not inside the question.
          setTimeout(() => send(press.hear(bytes)), 1);
        },
        close: async () => {
          handlers = null;
        },
      };
    },
    advance: (ms) => send(press.advance(ms)),
    unplug: () => {
      plugged = false;
      const gone = handlers;
      handlers = null;
      gone?.onLost('unplugged');
    },
    plug: () => {
      plugged = true;
    },
  };
};
