import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import CRC32 from 'crc-32';

/**
 * Names the very program that judges: names, sizes and times of all files of the core. What one program worked out of a log, another works out anew,
 * even when its version number is the same.
 */
export const programMark = (): string => {
  mark ??= (CRC32.str(files().join('\n')) >>> 0).toString(16).padStart(8, '0');
  return mark;
};

let mark: string | null = null;

const CORE = fileURLToPath(new URL('../core/', import.meta.url));

const files = (): readonly string[] =>
  readdirSync(CORE, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(js|ts)$/.test(entry.name))
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const { size, mtimeMs } = statSync(path);
      return `${path.slice(CORE.length)} ${size} ${Math.floor(mtimeMs)}`;
    })
    .toSorted();
