import { appendFile, mkdir, readdir, stat, unlink } from 'node:fs/promises';
import { join } from 'node:path';

export type BoundedFileOptions = {
  readonly folder: string;
  /** Files are called NAME-000001.txt and so on. */
  readonly name: string;
  /** All files together hold no more than this. */
  readonly maxBytes: number;
  /** What is older goes, as far as whole files are. */
  readonly maxAgeMs: number;
  readonly now: () => number;
  /** Told once when writing fails (a full disk); nothing is written after that. */
  readonly onTrouble: (why: string) => void;
};

/** A record kept in a row of files, the oldest thrown away as it grows: never in the way, never endless. */
export type BoundedFile = { readonly write: (text: string) => void; readonly close: () => Promise<void> };

/** In how many files it stands. */
const PARTS = 8;
/** How long lines are gathered before they are written. */
const GATHER_MS = 200;
/** Most that waits for a slow disk; beyond it lines are dropped and the trouble is told. */
const WAITING_BYTES = 4_000_000;

export const openBoundedFile = async (options: BoundedFileOptions): Promise<BoundedFile> => {
  const { folder, name, maxBytes, maxAgeMs, now } = options;
  // Owner only, whatever the umask, like the log beside it.
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const partBytes = Math.max(1024, Math.floor(maxBytes / PARTS));
  const names = await boundedFiles(folder, name);
  let number = Number(/(\d+)\.txt$/.exec(names.at(-1) ?? '')?.[1] ?? 0) + 1;
  let written = 0;
  let waiting = '';
  let broken = false;
  let writing: Promise<void> = Promise.resolve();

  const tidy = async (): Promise<void> => {
    const files = await boundedFiles(folder, name);
    const keep = files.slice(-(PARTS - 1));
    for (const file of files) {
      const path = join(folder, file);
      const old = now() - (await stat(path)).mtimeMs > maxAgeMs;
      if (!keep.includes(file) || old) await unlink(path);
    }
  };
  const flush = (): Promise<void> => {
    const text = waiting;
    waiting = '';
    writing = writing.then(async () => {
      if (text === '' || broken) return;
      try {
        if (written === 0) await tidy();
        await appendFile(join(folder, `${name}-${String(number).padStart(6, '0')}.txt`), text, {
          encoding: 'latin1',
          mode: 0o600,
        });
        written += text.length;
        if (written >= partBytes) {
          number += 1;
          written = 0;
        }
      } catch (error) {
        broken = true;
        options.onTrouble(error instanceof Error ? error.message : String(error));
      }
    });
    return writing;
  };
  const timer = setInterval(() => void flush(), GATHER_MS);
  timer.unref();
  return {
    write: (text) => {
      if (broken) return;
      waiting += text;
      if (waiting.length >= partBytes) void flush();
      if (waiting.length > WAITING_BYTES) {
        broken = true;
        waiting = '';
        options.onTrouble('the disk is too slow for it');
      }
    },
    close: async () => {
      clearInterval(timer);
      await flush();
    },
  };
};

/** The files of a bounded record, oldest first. */
export const boundedFiles = async (folder: string, name: string): Promise<readonly string[]> =>
  (await readdir(folder).catch(() => []))
    .filter((file) => file.startsWith(`${name}-`) && /-\d{6,}\.txt$/.test(file))
    .toSorted();
