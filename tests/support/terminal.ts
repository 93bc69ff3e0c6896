import { spawn } from '@lydell/node-pty';
import headless from '@xterm/headless';

/** What to run in the pseudo-terminal, and how large it is. */
export type TerminalOptions = {
  readonly command: string;
  readonly args: readonly string[];
  readonly columns?: number;
  readonly rows?: number;
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
};

export type TerminalExit = { readonly code: number; readonly signal: number };

export type KeyName = keyof typeof KEYS;

const KEYS = {
  enter: '\r',
  tab: '\t',
  'shift-tab': '\u001B[Z',
  esc: '\u001B',
  backspace: '\u007F',
  up: '\u001B[A',
  down: '\u001B[B',
  right: '\u001B[C',
  left: '\u001B[D',
  home: '\u001B[H',
  end: '\u001B[F',
  'page-up': '\u001B[5~',
  'page-down': '\u001B[6~',
  'ctrl-c': '\u0003',
} as const;

/** A program in a real pseudo-terminal, seen through a terminal emulator. Nothing here sleeps for its own sake: it waits for what should be seen. */
export class TestTerminal {
  /** Everything written so far, for looking for clears and counting bytes. */
  raw = '';
  readonly exited: Promise<TerminalExit>;
  readonly #pty;
  readonly #emulator;
  readonly #watchers = new Set<() => void>();
  #exit: TerminalExit | null = null;

  constructor(options: TerminalOptions) {
    const columns = options.columns ?? 80;
    const rows = options.rows ?? 24;
    this.#emulator = new headless.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 1000 });
    const env: Record<string, string> = {};
    for (const [name, value] of Object.entries(process.env)) if (value !== undefined) env[name] = value;
    // CI silences every frame of the board; the rest makes a screen the same on every machine.
    for (const name of [
      'CI',
      'CONTINUOUS_INTEGRATION',
      'NO_COLOR',
      'FORCE_COLOR',
      'NODE_ENV',
      'VITEST',
      'LC_ALL',
      'HOLDREG_DATA',
    ])
      delete env[name];
    this.#pty = spawn(options.command, [...options.args], {
      name: 'xterm-256color',
      cols: columns,
      rows,
      ...(options.cwd === undefined ? {} : { cwd: options.cwd }),
      env: { ...env, TZ: 'UTC', LANG: 'C.UTF-8', TERM: 'xterm-256color', ...options.env },
    });
    this.#pty.onData((data) => {
      this.raw += data;
      this.#emulator.write(data, () => this.#notify());
    });
    this.exited = new Promise((resolve) => {
      this.#pty.onExit(({ exitCode, signal }) => {
        this.#exit = { code: exitCode, signal: signal ?? 0 };
        this.#notify();
        resolve(this.#exit);
      });
    });
  }

  get pid(): number {
    return this.#pty.pid;
  }

  /** Types text as it would come from the keyboard; '\r' is Enter. */
  type(text: string): void {
    if (this.#exit === null) this.#pty.write(text);
  }

  press(...keys: readonly KeyName[]): void {
    for (const key of keys) this.type(KEYS[key]);
  }

  /** The visible screen as text, one line a row, without trailing blanks. */
  screen(): string {
    const buffer = this.#emulator.buffer.active;
    const lines: string[] = [];
    for (let row = 0; row < this.#emulator.rows; row += 1) {
      lines.push(buffer.getLine(buffer.baseY + row)?.translateToString(true) ?? '');
    }
    return lines.join('\n').trimEnd();
  }

  /** Whether the full-screen buffer is on. */
  alternate(): boolean {
    return this.#emulator.buffer.active.type === 'alternate';
  }

  /** Rows that were pushed off the top: litter when the board is on. */
  scrolledRows(): number {
    return this.#emulator.buffer.active.baseY;
  }

  resize(columns: number, rows: number): void {
    this.#emulator.resize(columns, rows);
    this.#pty.resize(columns, rows);
  }

  /** Resolves with the screen once it shows the text (or the condition holds); fails with the screen as it was. */
  waitFor(wanted: string | RegExp | ((screen: string) => boolean), timeoutMs = 15_000): Promise<string> {
    const holds = (screen: string): boolean =>
      typeof wanted === 'string'
        ? screen.includes(wanted)
        : wanted instanceof RegExp
          ? wanted.test(screen)
          : wanted(screen);
    return new Promise((resolve, reject) => {
      const finish = (settle: () => void): void => {
        clearTimeout(timer);
        this.#watchers.delete(look);
        settle();
      };
      const look = (): void => {
        const screen = this.screen();
        if (holds(screen)) finish(() => resolve(screen));
        else if (this.#exit !== null)
          finish(() => reject(this.#failure(wanted, screen, `the program ended with ${JSON.stringify(this.#exit)}`)));
      };
      const timer = setTimeout(
        () => finish(() => reject(this.#failure(wanted, this.screen(), `not within ${timeoutMs} ms`))),
        timeoutMs,
      );
      this.#watchers.add(look);
      look();
    });
  }

  /** Ends the program this class started, and only that. */
  kill(signal: 'SIGTERM' | 'SIGKILL' | 'SIGHUP' | 'SIGINT' = 'SIGKILL'): void {
    if (this.#exit === null) this.#pty.kill(signal);
  }

  async close(): Promise<void> {
    this.kill('SIGKILL');
    await this.exited;
    this.#emulator.dispose();
  }

  #notify(): void {
    for (const look of [...this.#watchers]) look();
  }

  #failure(wanted: unknown, screen: string, why: string): Error {
    return new Error(`Waited for ${String(wanted)}: ${why}. The screen was:\n${screen}`);
  }
}
