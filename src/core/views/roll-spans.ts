import type { LogRecord } from '../record.js';
import type { RollSpan } from './handover-view.js';

/** Finished rolls from where each began to where it came off, oldest first, the one being wound last (`running`: its number if known). */
export const rollSpans = (log: readonly LogRecord[], running: string | null): readonly RollSpan[] => {
  const spans: RollSpan[] = [];
  let from_m = 0;
  for (const record of log) {
    if (record.type === 'ok' && spans.length === 0) from_m = record.web_m;
    const roll =
      record.type === 'finished'
        ? record.roll
        : record.type === 'roll' && record.also_finished === true
          ? (record.roll ?? null)
          : null;
    if (roll === null || !('web_m' in record) || record.web_m === null) continue;
    spans.push({ roll, from_m, to_m: record.web_m });
    from_m = record.web_m;
  }
  return running === null || spans.some((span) => span.roll === running)
    ? spans
    : [...spans, { roll: running, from_m, to_m: null }];
};
