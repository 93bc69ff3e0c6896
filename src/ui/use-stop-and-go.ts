import { useApp } from 'ink';
import { useEffect } from 'react';

/**
 * Stopped from outside (`kill -TSTP`, a shell's job control) the board gives the terminal back first, as if it had been left, and takes it again and
 * draws everything anew when it is told to go on. One that was stopped without being asked (SIGSTOP) draws anew too: the shell had the terminal since.
 */
export function useStopAndGo(): void {
  const { suspendTerminal } = useApp();
  useEffect(() => {
    // Windows has no such signals.
    if (process.platform === 'win32') return;
    let own = false;
    const away = (meanwhile: () => void): void => {
      suspendTerminal(meanwhile).catch(() => {
        // It is away already, or the board is being left.
      });
    };
    const stop = (): void => {
      own = true;
      away(() => void process.kill(process.pid, 'SIGSTOP'));
    };
    const go = (): void => {
      if (!own) away(() => {});
      own = false;
    };
    process.on('SIGTSTP', stop);
    process.on('SIGCONT', go);
    return () => {
      process.off('SIGTSTP', stop);
      process.off('SIGCONT', go);
    };
  }, [suspendTerminal]);
}
