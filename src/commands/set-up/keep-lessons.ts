import type { RunState } from '../../core/run/state.js';
import { saveLearned } from '../learned.js';
import { writeMeasured } from './write-measured.js';

/** What a run taught, for the next one: knobs that were measured go into the press file, the rest into the shop file. Says what the operator should know. */
export const keepLessons = async (dataDir: string, state: RunState): Promise<readonly string[]> => {
  const said = await writeMeasured(dataDir, state);
  const saved = await saveLearned(dataDir, state);
  return saved.ok ? said : [...said, saved.problem.message];
};
