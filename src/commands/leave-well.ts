/** Exit codes by signal: 128 + its number. */
const CODES = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;

/** On SIGINT, SIGTERM, SIGHUP: takes the screen down first, then says with which code to leave; the default would lose what is buffered. */
export const leaveWell = (
  takeDown: () => void | Promise<void>,
): { readonly signalled: Promise<number>; readonly forget: () => void } => {
  let forget = (): void => {};
  const signalled = new Promise<number>((resolve) => {
    const handlers = Object.entries(CODES).map(([signal, code]) => {
      const handler = (): void => {
        Promise.resolve(takeDown()).finally(() => resolve(code));
      };
      process.on(signal, handler);
      return { signal, handler };
    });
    forget = () => {
      for (const { signal, handler } of handlers) process.off(signal, handler);
    };
  });
  return { signalled, forget };
};
