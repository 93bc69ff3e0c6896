import type { Problem } from '../core/result.js';
import { BAD, type Exit, MACHINE } from './exit.js';

/** Disk and port troubles carry the system's own word for it; everything else was bad input. */
export const codeFor = (problem: Problem): Exit =>
  /\b(E[A-Z]{3,}|disk|no space|not permitted|permission)\b/.test(problem.message) ? MACHINE : BAD;
