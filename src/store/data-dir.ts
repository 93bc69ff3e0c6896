import { resolve } from 'node:path';
import envPaths from 'env-paths';

/** Where the program keeps its data: `--data`, else HOLDREG_DATA, else the platform's data folder. */
export const dataDir = (given: string | undefined, env: Readonly<Record<string, string | undefined>>): string => {
  const named = [given, env.HOLDREG_DATA].find((folder) => folder !== undefined && folder.trim() !== '');
  return named === undefined ? envPaths('holdregister', { suffix: '' }).data : resolve(named);
};
