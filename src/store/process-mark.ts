import { readFileSync } from 'node:fs';

/**
 * What tells a process from a later one with the same pid: the machine's boot and the clock tick at which it started (/proc/PID/stat, field 22), or null
 * where the system does not say. `alive` falls back on whether a signal could be sent.
 */
export type ProcessMark = { readonly pid: number; readonly started: string | null };

export const markOf = (pid: number): ProcessMark => ({ pid, started: startedAt(pid) });

/** Whether the very process of a mark still runs. */
export const isAlive = ({ pid, started }: ProcessMark): boolean => {
  if (!Number.isSafeInteger(pid) || pid <= 0 || !answers(pid)) return false;
  return started === null || startedAt(pid) === started || startedAt(process.pid) === null;
};

const answers = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Not permitted: it is somebody else's, and alive.
    return Reflect.get(Object(error), 'code') === 'EPERM';
  }
};

const startedAt = (pid: number): string | null => {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The second field is the program's name in brackets and may hold anything, brackets and spaces included.
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    const zombie = fields[0] === 'Z' || fields[0] === 'X';
    return zombie ? 'ended' : `${readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()} ${fields[19]}`;
  } catch {
    return null;
  }
};
