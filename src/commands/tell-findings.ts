import type { Finding } from '../core/finding.js';
import type { LogRecord } from '../core/record.js';
import type { RunState } from '../core/run/state.js';
import { findingWords } from '../core/views/finding-words.js';
import { replayLine } from './replay-line.js';

/** What one record made known, a line each: words for a person, or JSON as replay prints it. */
export const tellFindings = (
  state: RunState,
  record: LogRecord,
  found: readonly Finding[],
  json: boolean,
): readonly string[] => {
  if (!json) return found.map((f) => findingWords(state, f)).filter((words) => words !== '');
  const check = record.type === 'check' || record.type === 'pull' ? record.check : null;
  const web_m = 'web_m' in record ? record.web_m : null;
  return found.map((f) => replayLine({ run: state.run, check, web_m }, f));
};
