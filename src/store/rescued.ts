import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { writeNew } from './whole-file.js';

/** A damaged run that was rescued into another stays as evidence, and is in progress no more: a file beside its log says where its entries went on. */
export const isRescued = (folder: string): boolean => existsSync(join(folder, MARK));

/** Throws the system's error. */
export const markRescued = (folder: string, into: string): void => {
  if (!isRescued(folder)) writeNew(join(folder, MARK), `${into}\n`, 'synced');
};

const MARK = 'rescued-as.txt';
