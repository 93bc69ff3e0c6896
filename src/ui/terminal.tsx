import { render } from 'ink';
import { App } from './app.js';
import { silentBell, stepBell } from './bell.js';
import { pageRows } from './frame.js';
import type { BoardPort } from './port.js';
import { createRowCodes, type RowCodes } from './row-codes.js';
import { createSession } from './session.js';
import type { Look } from './theme.js';

export type BoardOptions = {
  /** Letters and signs of plain ASCII only. */
  readonly ascii: boolean;
  /** false: NO_COLOR, or a terminal without colour. */
  readonly color: boolean;
  /** No bell. */
  readonly mute: boolean;
};

export type Board = {
  /** Resolves with the exit code once the screen has been given back. */
  readonly finished: Promise<number>;
  readonly stop: () => void;
};

/**
 * Opens the board on the whole terminal. The only file that writes to stdout. Leaving (q, twice Ctrl-C, `stop`) first gives the
 * screen back, then tells the port to quit; a fault inside the board does the same with code 3 and is printed after leaving.
 */
export function startBoard(port: BoardPort, options: BoardOptions): Board {
  const look: Look = { ascii: options.ascii, color: options.color, decimal: decimalMark() };
  let code = 0;
  const session = createSession(port, {
    look,
    mute: options.mute,
    idleClock: Date.now,
    pageRows: pageRows(process.stdout.rows ?? 24),
    quit: (asked) => {
      code = asked;
      leave();
      port.quit(asked);
    },
  });
  const codes = createRowCodes();
  const ink = render(<App port={port} session={session} look={look} encode={codes.encode} />, {
    stdout: decoding(process.stdout, codes),
    alternateScreen: true,
    incrementalRendering: true,
    exitOnCtrlC: false,
    // A build server's variable in the environment must not leave the operator with a black screen: a terminal is a terminal.
    interactive: true,
    // A key that falls just after a frame of the sensor then waits 8 ms at most, not 17.
    maxFps: 120,
    patchConsole: false,
  });
  let bell = silentBell;
  const listen = (): void => {
    const step = stepBell(bell, port.view(), Date.now(), session.screen().muted);
    bell = step.bell;
    if (step.ring) process.stdout.write('\u0007');
  };
  const quiet = port.subscribe(listen);
  const timer = setInterval(() => {
    session.tick();
    listen();
  }, 1000);
  listen();
  const leave = (): void => {
    clearInterval(timer);
    quiet();
    ink.unmount();
  };
  const finished = ink.waitUntilExit().then(
    () => code,
    (fault: unknown) => {
      clearInterval(timer);
      quiet();
      process.stderr.write(
        `The board failed: ${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}\n`,
      );
      return 3;
    },
  );
  return { finished, stop: leave };
}

/** The terminal itself, but what is written to it has its rows back in place of their codes. */
function decoding(stdout: NodeJS.WriteStream, codes: RowCodes): NodeJS.WriteStream {
  return new Proxy(stdout, {
    get: (stream, name) => {
      if (name === 'write')
        return (chunk: string | Uint8Array, ...rest: readonly never[]): boolean =>
          stream.write(typeof chunk === 'string' ? codes.decode(chunk) : chunk, ...rest);
      const value: unknown = Reflect.get(stream, name, stream);
      return typeof value === 'function' ? value.bind(stream) : value;
    },
  });
}

/** Comma or point, as the operator's locale writes numbers. */
function decimalMark(): '.' | ',' {
  const language =
    (process.env.LC_ALL || process.env.LC_NUMERIC || process.env.LANG || '').split('.')[0]?.replace('_', '-') ?? '';
  if (language === '' || language === 'C' || language === 'POSIX') return '.';
  try {
    return new Intl.NumberFormat(language).format(1.5).includes(',') ? ',' : '.';
  } catch {
    return '.';
  }
}
