import { readFileSync, readlinkSync } from 'node:fs';
import { basename } from 'node:path';

/**
 * Whether standard output was closed by whoever started the program (`>&-`): Node then opens /dev/null for reading and writing in its place, and every
 * answer is gone without an error. A shell that throws an answer away on purpose opens it for writing only. Python and Node do so for both, and theirs is
 * on purpose. Only Linux tells; elsewhere it is not known, and false.
 */
export const isOutputClosed = (): boolean => {
  try {
    if (readlinkSync('/proc/self/fd/1') !== '/dev/null') return false;
    const flags = Number.parseInt(/^flags:\s*(\d+)$/m.exec(readFileSync('/proc/self/fdinfo/1', 'utf8'))?.[1] ?? '', 8);
    return (flags & ACCESS) === READ_AND_WRITE && !ON_PURPOSE.test(parent());
  } catch {
    return false;
  }
};

const ACCESS = 0o3;
const READ_AND_WRITE = 0o2;
const ON_PURPOSE = /^(?:node|python)/;

const parent = (): string => {
  try {
    return basename(readlinkSync(`/proc/${process.ppid}/exe`));
  } catch {
    return '';
  }
};
