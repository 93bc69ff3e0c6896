import type { BytesToSend } from './profile-port.js';

/** The bytes of a command of a profile. */
export const bytesToSend = (command: BytesToSend): Buffer =>
  typeof command === 'string' ? Buffer.from(command, 'latin1') : Buffer.from(command.hex.replaceAll(' ', ''), 'hex');
