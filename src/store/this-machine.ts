import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';

/**
 * The name of this computer, and behind a stroke what tells it from another one of the same name (two presses set up from one image, on one shared
 * folder): a digest of the machine's own id, which is not to be given away as it stands (machine-id(5)). The name alone where the system has none.
 */
export const thisMachine = (): string => (ID === null ? hostname() : `${hostname()}/${ID}`);

/** Whether what `thisMachine` said once was said on this computer; by its name where an id is wanting, as in files of an earlier program. */
export const isThisMachine = (machine: string): boolean => {
  const [name, id] = machine.split('/');
  return id === undefined || ID === null ? name === hostname() : id === ID;
};

/** For the operator. */
export const machineName = (machine: string): string => machine.split('/')[0] ?? machine;

const idOf = (): string | null => {
  for (const file of ['/etc/machine-id', '/var/lib/dbus/machine-id']) {
    try {
      const id = readFileSync(file, 'utf8').trim();
      if (id !== '') return createHash('sha256').update(`holdregister ${id}`).digest('hex').slice(0, 12);
    } catch {
      // Not every system has one.
    }
  }
  return null;
};

const ID = idOf();
