import { mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fail, ok, type Result } from '../core/result.js';
import type { SimulatedPress } from './simulated-press.js';

/** A simulated press on a real pseudo-terminal: whoever opens `path` has a serial port before him. */
export type SimulatedPty = {
  /** Stays the same when the sensor is unplugged and plugged in again. */
  readonly path: string;
  readonly advance: (ms: number) => void;
  readonly unplug: () => Promise<void>;
  readonly plug: () => Promise<void>;
  readonly close: () => Promise<void>;
};

/** Puts a press on a pseudo-terminal of the system; needs the package @lydell/node-pty, which comes with the development install. */
export const simulatedPty = async (press: SimulatedPress): Promise<Result<SimulatedPty>> => {
  let pty: Terminal | null = null;
  const folder = await mkdtemp(join(tmpdir(), 'holdreg-press-'));
  const path = join(folder, 'sensor');
  const plug = async (): Promise<void> => {
    const opened = await openTerminal((bytes) => {
      for (const answer of press.hear(bytes)) pty?.write(answer);
    });
    pty = opened;
    await symlink(opened.path, path);
  };
  const unplug = async (): Promise<void> => {
    await rm(path, { force: true });
    pty?.end();
    pty = null;
  };
  const close = async (): Promise<void> => {
    await unplug();
    await rm(folder, { recursive: true, force: true });
  };
  try {
    await plug();
  } catch (error) {
    await close();
    const missing = error instanceof Error && 'code' in error && error.code === 'ERR_MODULE_NOT_FOUND';
    const why = missing
      ? 'the package @lydell/node-pty is not installed; npm ci in the source folder brings it'
      : error instanceof Error
        ? error.message
        : String(error);
    return fail(`no pseudo-terminal for the simulated press: ${why}`);
  }
  return ok({
    path,
    advance: (ms) => {
      for (const bytes of press.advance(ms)) pty?.write(bytes);
    },
    unplug,
    plug,
    close,
  });
};

type Terminal = { readonly path: string; readonly write: (bytes: Buffer) => void; readonly end: () => void };

/** The shell prints the terminal's path, makes it raw and sleeps; from then on its far end is ours. */
const openTerminal = async (onBytes: (bytes: Buffer) => void): Promise<Terminal> => {
  const { spawn } = await import('@lydell/node-pty');
  const pty = spawn('sh', ['-c', 'stty raw -echo; tty; exec sleep 100000'], { encoding: 'latin1' as never });
  return new Promise((resolve, reject) => {
    let first = '';
    let ready = false;
    const giveUp = setTimeout(() => reject(new Error('the terminal did not tell its name')), 5000);
    pty.onData((text) => {
      if (ready) return onBytes(Buffer.from(text, 'latin1'));
      first += text;
      const path = /^(\/dev\/\S+)[\r\n]+/.exec(first)?.[1];
      if (path === undefined) return;
      ready = true;
      clearTimeout(giveUp);
      // Buffers go out as they are; a string would be sent as UTF-8. The types know of strings only.
      resolve({ path, write: (bytes) => pty.write(bytes as unknown as string), end: () => pty.kill('SIGKILL') });
    });
  });
};
