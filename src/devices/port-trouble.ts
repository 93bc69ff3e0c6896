import { readFile, stat } from 'node:fs/promises';
import { wireText } from './wire-text.js';

/** Why a port would not open, and the words for it. */
export type PortTrouble = { readonly kind: 'missing' | 'busy' | 'not permitted' | 'other'; readonly detail: string };

/** The system's error on opening a port, in words that say what to do; asks the system which group owns the port. */
export const portTrouble = async (path: string, error: unknown): Promise<PortTrouble> => {
  const text = error instanceof Error ? error.message : String(error);
  const port = wireText(path, 60);
  if (/no such file|file not found|cannot find|enoent|no such device|does not exist/i.test(text)) {
    return {
      kind: 'missing',
      detail: `there is no port ${port}: plug the sensor in, or see holdreg ports for the ports there are. It is tried again by itself.`,
    };
  }
  if (/cannot lock|is locked|temporarily unavailable|busy|in use/i.test(text)) {
    return {
      kind: 'busy',
      detail: `port ${port} is in use by another program: close that one. It is tried again by itself.`,
    };
  }
  if (/permission denied|eacces|access (is )?denied|not permitted/i.test(text)) {
    if (process.platform === 'win32')
      return {
        kind: 'busy',
        detail: `port ${port} will not open: another program has it, or Windows denies it. Close the other program. It is tried again by itself.`,
      };
    const group = await groupOf(path);
    const join =
      group === 'root'
        ? 'ask whoever runs this computer for access'
        : `join the group "${group}" (sudo usermod -aG ${group} $USER), then log out and in`;
    return { kind: 'not permitted', detail: `you may not use port ${port}: ${join}.` };
  }
  return { kind: 'other', detail: `port ${port} will not open: ${wireText(text, 120)}. It is tried again by itself.` };
};

/** The group a device file belongs to; serial ports are "dialout" on most systems, "uucp" on some. */
const groupOf = async (path: string): Promise<string> => {
  try {
    const { gid } = await stat(path);
    const line = (await readFile('/etc/group', 'utf8')).split('\n').find((l) => l.split(':')[2] === String(gid));
    return wireText(line?.split(':')[0] || 'dialout', 32);
  } catch {
    return 'dialout';
  }
};
