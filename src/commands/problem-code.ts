import type { Problem } from '../core/result.js';
import { BAD, type Exit, MACHINE, NO } from './exit.js';

/** No run to act on is a plain no; what the machine refused is its failure; everything else was bad input. */
export const codeFor = ({ code }: Problem): Exit =>
  code === 'none-in-progress' ? NO : code === 'machine' ? MACHINE : BAD;
