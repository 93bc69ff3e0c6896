import { failAtLine, type Problem } from '../result.js';
import type { Row } from './row.js';

/** A refusal that names file and line. */
export const rowTrouble = (file: string, row: Row, why: string): { readonly ok: false; readonly problem: Problem } =>
  failAtLine(file, row.line, why);
