/** Exit codes by signal: 128 + its number. */
const CODES = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;
const FAULT = 3;

/**
 * On SIGINT, SIGTERM, SIGHUP, and on a fault nobody caught: takes the screen down first, then says with which code to leave; the default would lose
 * what is buffered and leave the terminal as it is. A fault is printed after the screen is down.
 */
export const leaveWell = (
  takeDown: () => void | Promise<void>,
): {
  readonly signalled: Promise<number>;
  /** The code asked for, as soon as it is asked: taking the screen down ends the board too, with a code that says nothing of why. */
  readonly asked: () => number | null;
  readonly forget: () => void;
} => {
  let asked: number | null = null;
  let forget = (): void => {};
  const signalled = new Promise<number>((resolve) => {
    const leave = async (code: number, fault: unknown): Promise<void> => {
      asked ??= code;
      try {
        await takeDown();
      } catch {
        // Whatever is wrong with the screen, the log is still to be closed.
      }
      if (fault !== null)
        process.stderr.write(`holdreg: ${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}\n`);
      resolve(code);
    };
    const onFault = (fault: unknown): void => {
      // The terminal was closed: there is nobody to tell.
      if (GONE.has(String(Reflect.get(Object(fault), 'code')))) void leave(CODES.SIGHUP, null);
      else void leave(FAULT, fault);
    };
    const handlers: [string, (fault: unknown) => void][] = Object.entries(CODES).map(([signal, code]) => [
      signal,
      () => void leave(code, null),
    ]);
    handlers.push(['uncaughtException', onFault], ['unhandledRejection', onFault]);
    for (const [event, handler] of handlers) process.on(event, handler);
    forget = () => {
      for (const [event, handler] of handlers) process.off(event, handler);
    };
  });
  return { signalled, asked: () => asked, forget };
};

const GONE = new Set(['EIO', 'EPIPE', 'ENXIO', 'EBADF']);
