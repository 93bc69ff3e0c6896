import type { Problem } from '../core/result.js';
import { BAD, type Exit, MACHINE, NO } from './exit.js';
import { NONE_IN_PROGRESS } from './find-run.js';

/** No run to act on is a plain no; disk and port troubles carry the system's own word for it; everything else was bad input. */
export const codeFor = (problem: Problem): Exit => {
  if (problem.message === NONE_IN_PROGRESS) return NO;
  return /\b(E[A-Z]{3,}|disk|no space|not permitted|permission)\b/.test(problem.message) ? MACHINE : BAD;
};
